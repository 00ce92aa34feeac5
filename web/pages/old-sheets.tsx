import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { Mapping, OldSheetPreview, OldSheetTaken } from '../../server/old-sheets/contract.ts';
import { get, newKey, post } from '../api.ts';
import { text } from '../messages/en.ts';
import { oldSheetsText } from '../messages/en-old-sheets.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { Button } from '../parts/button.tsx';
import { Field, Select, TextArea, Tick } from '../parts/field.tsx';
import { PageHeader } from '../parts/page.tsx';
import { ErrorSummary, Question, refusedHere, useSubmission } from '../parts/refusal.tsx';
import { EMPTY_SHEET, readSheetDraft, withMapping, withProposed, type SheetDraft } from './old-sheets/draft.ts';
import { AssumedFields, ColumnFields, type FieldsProps, WritingFields } from './old-sheets/fields.tsx';
import { SheetFound, SheetTaken } from './old-sheets/found.tsx';
import './old-sheets/old-sheets.css';

const words = oldSheetsText;

function useOldSheet() {
  const [draft, setDraft] = useState(EMPTY_SHEET);
  const [preview, setPreview] = useState<OldSheetPreview | null>(null);
  const [taken, setTaken] = useState<OldSheetTaken | null>(null);
  const submission = useSubmission();
  const client = useQueryClient();
  const send = async (dryRun: boolean): Promise<void> => {
    const { body, problems } = readSheetDraft(draft, dryRun);
    const refused = refusedHere(problems);
    if (refused) return submission.setRefusal(refused);
    await submission.submit(async (extra) => {
      if (dryRun) {
        const found = await post<OldSheetPreview>('/api/old-sheets', { ...body, ...extra }, newKey());
        setPreview(found);
        setDraft((before) => withProposed(before, found.proposed));
        return;
      }
      // The same list is known again by the record itself, whatever its key.
      setTaken(await post<OldSheetTaken>('/api/old-sheets', { ...body, ...extra }, newKey()));
      setDraft(EMPTY_SHEET);
      setPreview(null);
      void client.invalidateQueries();
    });
  };
  return {
    draft,
    preview,
    taken,
    submission,
    send,
    change: (changes: Partial<SheetDraft>) => setDraft((before) => ({ ...before, ...changes })),
    takeMapping: (kept: Mapping) => setDraft((before) => withMapping(before, kept)),
  };
}

/** Readings from old paper: the list, how it is written, its columns, what would become of it, and taking it over. */
export default function OldSheetsPage() {
  const sheet = useOldSheet();
  const { draft, preview, taken, submission, send, change } = sheet;
  const fields = { draft, onChange: change, submission };
  return (
    <div className="stack wide-gaps">
      <PageHeader title={words.title} within={{ href: '/glassware', label: vesselText.title }} lead={words.lead} />
      {taken && <SheetTaken taken={taken} />}
      <ErrorSummary refusal={submission.refusal} />
      <ListFields {...fields} />
      <KeptMappings onTake={sheet.takeMapping} />
      {preview && (
        <>
          <WritingFields {...fields} />
          <ColumnFields {...fields} sample={preview.sample} />
          <AssumedFields {...fields} />
        </>
      )}
      <div className="row">
        <Button look={preview ? 'plain' : 'primary'} bench disabled={submission.busy} onClick={() => void send(true)}>
          {words.check}
        </Button>
      </div>
      {preview && <SheetFound preview={preview} />}
      {preview && preview.calibrations.length > 0 && (
        <div className="stack">
          <Field
            name="rememberAs"
            label={words.rememberAs}
            width="medium"
            optional
            value={draft.rememberAs}
            problem={submission.problemAt('rememberAs')}
            onChange={(rememberAs) => change({ rememberAs })}
          />
          {preview.problems.length > 0 && (
            <Tick
              name="onlyGood"
              label={words.onlyGood}
              checked={draft.onlyGood}
              onChange={(onlyGood) => change({ onlyGood })}
            />
          )}
          <Question submission={submission} field="list" />
          <div className="row">
            <Button look="primary" bench disabled={submission.busy} onClick={() => void send(false)}>
              {submission.busy ? text.form.saving : words.takeOver}
            </Button>
          </div>
        </div>
      )}
    </div>
  );
}

/** The list itself, pasted or from a file. */
function ListFields({ draft, onChange, submission }: FieldsProps) {
  return (
    <div className="stack old-list">
      <TextArea
        name="list"
        label={words.list}
        help={words.listHelp}
        rows={8}
        value={draft.list}
        problem={submission.problemAt('list')}
        onChange={(list) => onChange({ list })}
      />
      <label className="field">
        <span className="field-label">{words.file}</span>
        <input
          type="file"
          accept=".csv,.tsv,.txt,text/csv,text/plain"
          onChange={(event) => void event.target.files?.[0]?.text().then((list) => onChange({ list }))}
        />
      </label>
      <Tick
        name="hasHeader"
        label={words.hasHeader}
        checked={draft.hasHeader}
        onChange={(hasHeader) => onChange({ hasHeader })}
      />
    </div>
  );
}

/** Columns kept earlier under a name. */
function KeptMappings({ onTake }: { onTake: (kept: Mapping) => void }) {
  const kept = useQuery({
    queryKey: ['old-sheets', 'mappings'],
    queryFn: ({ signal }) => get<{ items: { name: string; mapping: Mapping }[] }>('/api/old-sheets/mappings', signal),
  });
  const [chosen, setChosen] = useState('');
  const items = kept.data?.items ?? [];
  if (items.length === 0) return null;
  return (
    <Select
      name="kept"
      label={words.kept}
      none={words.keptNone}
      value={chosen}
      options={items.map(({ name }) => ({ value: name, label: name }))}
      onChange={(name) => {
        setChosen(name);
        const one = items.find((item) => item.name === name);
        if (one) onTake(one.mapping);
      }}
    />
  );
}
