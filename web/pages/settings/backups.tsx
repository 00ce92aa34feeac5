import { useQuery, useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import type { Backup, BackupList, BackupMade } from '../../../server/backups/contract.ts';
import type { Laboratory } from '../../../server/laboratory/contract.ts';
import { get, newKey, patch, post } from '../../api.ts';
import { backupsText as words } from '../../messages/en-backups.ts';
import { text } from '../../messages/en.ts';
import { Button } from '../../parts/button.tsx';
import { Field, Tick } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { ReopeningDialog } from '../../parts/reopening-dialog.tsx';
import { fixed } from '../../parts/rounding.ts';
import { moment } from '../../parts/time.ts';
import { keys } from '../../queries.ts';

const BACKUPS = ['backups'] as const;
const BYTES_PER_MB = 1e6;
const SHOWN_OF_HASH = 12;

/** When copies are made, which there are, and the way back to one. */
export function BackupsSection({ laboratory }: { laboratory: Laboratory }) {
  const list = useQuery({ queryKey: BACKUPS, queryFn: ({ signal }) => get<BackupList>('/api/backups', signal) });
  return (
    <Section title={words.title}>
      <p className="quiet measure">{words.lead}</p>
      <Loaded query={list} what={words.what}>
        {(loaded) => (
          <>
            <Schedule laboratory={laboratory} folder={loaded.folder} />
            {loaded.lastFailure && (
              <Notice tone="strong">{words.failed(moment(loaded.lastFailure.at), loaded.lastFailure.detail)}</Notice>
            )}
            <BackUpNow />
            <Table list={loaded} />
          </>
        )}
      </Loaded>
    </Section>
  );
}

const wholeNumber = (typed: string, most: number): number | null => {
  const number = /^\s*\d{1,4}\s*$/.test(typed) ? Number(typed) : 0;
  return number >= 1 && number <= most ? number : null;
};

const DAILY = { folder: null, everyHours: 24, kept: 14 };

function useSchedule(laboratory: Laboratory) {
  const stands = laboratory.backups ?? DAILY;
  const [automatic, setAutomatic] = useState(laboratory.backups !== null);
  const [folder, setFolder] = useState(stands.folder ?? '');
  const [everyHours, setEveryHours] = useState(String(stands.everyHours));
  const [kept, setKept] = useState(String(stands.kept));
  const [said, setSaid] = useState('');
  const submission = useSubmission();
  const client = useQueryClient();
  const save = async () => {
    setSaid('');
    const hours = wholeNumber(everyHours, 720);
    const number = wholeNumber(kept, 1000);
    if (automatic && (hours === null || number === null))
      return submission.setRefusal(
        refusedHere({
          'backups/everyHours': hours === null ? words.schedule.hoursRange : undefined,
          'backups/kept': number === null ? words.schedule.keptRange : undefined,
        }),
      );
    const backups = automatic ? { folder: folder.trim() || null, everyHours: hours, kept: number } : null;
    await submission.submit(async () => {
      const saved = await patch<Laboratory>('/api/laboratory', { backups }, laboratory.version);
      client.setQueryData(keys.laboratory, saved);
      await client.invalidateQueries({ queryKey: BACKUPS });
      setSaid(words.schedule.saved);
    });
  };
  const fields = { automatic, setAutomatic, folder, setFolder, everyHours, setEveryHours, kept, setKept };
  return { ...fields, said, submission, save };
}

function Schedule({ laboratory, folder }: { laboratory: Laboratory; folder: string }) {
  const form = useSchedule(laboratory);
  const { submission } = form;
  return (
    <form
      className="stack settings-backups"
      noValidate
      onSubmit={(event: SubmitEvent) => {
        event.preventDefault();
        void form.save();
      }}
    >
      <ErrorSummary refusal={submission.refusal} />
      <Tick
        name="backups"
        label={words.schedule.automatic}
        checked={form.automatic}
        problem={submission.problemAt('backups')}
        onChange={form.setAutomatic}
      />
      {form.automatic && (
        <>
          <Field
            name="backups/folder"
            label={words.schedule.folder}
            help={words.schedule.folderHelp(folder)}
            optional
            value={form.folder}
            problem={submission.problemAt('backups/folder')}
            onChange={form.setFolder}
          />
          <Field
            name="backups/everyHours"
            label={words.schedule.everyHours}
            unit={words.schedule.hours}
            inputMode="numeric"
            width="short"
            value={form.everyHours}
            problem={submission.problemAt('backups/everyHours')}
            onChange={form.setEveryHours}
          />
          <Field
            name="backups/kept"
            label={words.schedule.kept}
            help={words.schedule.keptHelp}
            inputMode="numeric"
            width="short"
            value={form.kept}
            problem={submission.problemAt('backups/kept')}
            onChange={form.setKept}
          />
        </>
      )}
      <div className="row">
        <Button type="submit" disabled={submission.busy}>
          {submission.busy ? text.form.saving : words.schedule.save}
        </Button>
        <span role="status">{form.said}</span>
      </div>
    </form>
  );
}

function BackUpNow() {
  const [key, setKey] = useState(newKey);
  const [made, setMade] = useState<string | null>(null);
  const submission = useSubmission();
  const client = useQueryClient();
  const make = () =>
    submission.submit(async () => {
      const { file } = await post<BackupMade>('/api/backups', {}, key);
      setMade(file);
      setKey(newKey());
      await client.invalidateQueries({ queryKey: BACKUPS });
    });
  return (
    <div className="stack">
      <ErrorSummary refusal={submission.refusal} />
      <div className="row">
        <Button look="primary" disabled={submission.busy} onClick={() => void make()}>
          {words.now}
        </Button>
        <span role="status">{submission.busy ? words.making : made && words.made(made)}</span>
      </div>
    </div>
  );
}

function Table({ list }: { list: BackupList }) {
  const [wanted, setWanted] = useState<Backup | null>(null);
  if (list.items.length === 0) return <p className="quiet">{words.none}</p>;
  return (
    <>
      <div className="table-box">
        <table className="table">
          <caption>{words.caption(list.folder)}</caption>
          <thead>
            <tr>
              <th scope="col">{words.columns.at}</th>
              <th scope="col">{words.columns.size}</th>
              <th scope="col">{words.columns.head}</th>
              <th scope="col">{words.columns.act}</th>
            </tr>
          </thead>
          <tbody>
            {list.items.map((backup) => (
              <tr key={backup.file}>
                <td>{moment(backup.at)}</td>
                <td className="number">{words.size(fixed(backup.bytes / BYTES_PER_MB, 1))}</td>
                <td>
                  {backup.head
                    ? words.head(backup.head.number, backup.head.hash.slice(0, SHOWN_OF_HASH))
                    : words.unknownHead}
                </td>
                <td>
                  <Button
                    look="quiet"
                    aria-label={words.restoreLabel(moment(backup.at))}
                    onClick={() => setWanted(backup)}
                  >
                    {words.restore}
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {wanted && (
        <ReopeningDialog
          title={words.restoreTitle(moment(wanted.at))}
          what={words.restoreWhat}
          act={words.restoreAct}
          path="/api/backups/restore"
          body={{ file: wanted.file }}
          thenAt="/settings"
          onClose={() => setWanted(null)}
        />
      )}
    </>
  );
}
