import { useState } from 'react';
import { withQuery } from '../../api.ts';
import { labelsText as words } from '../../messages/en-labels.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { labelPlaces, type SheetLayout } from '../../plots/label-sheet.ts';
import { AddByTag } from './add-by-tag.tsx';
import { Chosen, type ChosenProps } from './chosen.tsx';
import { SheetPreview } from './preview.tsx';
import { COUNTS, keepSheet, keptSheet, LENGTHS, readSheet, type SheetDraft, type SheetField } from './sheet-draft.ts';
import { useChosen } from './use-chosen.ts';
import './labels.css';

export default function LabelsPage() {
  const { labels, choose } = useChosen();
  return (
    <>
      <PageHeader title={words.title} lead={words.lead} within={{ href: '/glassware', label: vesselText.title }} />
      <Loaded query={labels} what={words.what}>
        {({ items }) => <Sheet labels={items} choose={choose} />}
      </Loaded>
    </>
  );
}

function Sheet({ labels, choose }: ChosenProps) {
  const [draft, setDraft] = useState(keptSheet);
  const [outlines, setOutlines] = useState(false);
  const [isAsked, setAsked] = useState(false);
  const { layout, problems } = readSheet(draft);
  const change = (changes: Partial<SheetDraft>) => {
    const next = { ...draft, ...changes };
    setDraft(next);
    keepSheet(next);
  };
  const ids = labels.map(({ id }) => id);
  const print = () => {
    setAsked(true);
    if (layout === null) document.getElementById(Object.keys(problems)[0] ?? '')?.focus();
    else window.open(sheetAddress(ids, draft, layout, outlines), '_blank', 'noopener');
  };
  const problemAt = (field: SheetField) => (isAsked || draft[field] !== '' ? problems[field] : undefined);
  return (
    <div className="label-columns">
      <div>
        <Section title={words.chosen}>
          {labels.length === 0 ? <p className="quiet">{words.none}</p> : <Chosen labels={labels} choose={choose} />}
          <AddByTag onFound={(id) => choose([...ids.filter((one) => one !== id), id])} />
        </Section>
        <Section title={words.sheet}>
          <p className="quiet measure">{words.sheetHelp}</p>
          <SheetFields draft={draft} problemAt={problemAt} onChange={change} />
          <Tick name="outlines" label={words.outlines} checked={outlines} onChange={setOutlines} />
          <div className="row">
            <Button look="primary" bench disabled={labels.length === 0} onClick={print}>
              {words.print}
            </Button>
            {layout && labels.length > 0 && <span>{words.count(labels.length, sheetsOf(layout, labels.length))}</span>}
          </div>
          <p className="quiet small">{words.printHelp}</p>
        </Section>
      </div>
      {layout && (
        <Section title={words.preview}>
          <SheetPreview layout={layout} labels={labels} />
        </Section>
      )}
    </div>
  );
}

const sheetsOf = (layout: SheetLayout, count: number): number => (labelPlaces(layout, count).at(-1)?.sheet ?? 0) + 1;

const sheetAddress = (
  ids: readonly string[],
  { paper, code }: SheetDraft,
  layout: SheetLayout,
  outlines: boolean,
): string => {
  const numbers = [...COUNTS, ...LENGTHS].map((field) => [field, String(layout[field])]);
  return withQuery('/api/labels.pdf', {
    ...{ vessels: ids.join(','), paper, code, outlines: String(outlines) },
    ...(Object.fromEntries(numbers) as Record<string, string>),
  });
};

interface SheetFieldsProps {
  draft: SheetDraft;
  problemAt: (field: SheetField) => string | undefined;
  onChange: (changes: Partial<SheetDraft>) => void;
}

function SheetFields({ draft, problemAt, onChange }: SheetFieldsProps) {
  const length = (field: (typeof LENGTHS)[number]) => ({
    ...{ name: field, label: words.fields[field], unit: 'mm', number: true, value: draft[field] },
    ...{ problem: problemAt(field), onChange: (value: string) => onChange({ [field]: value }) },
  });
  const count = (field: (typeof COUNTS)[number]) => ({
    ...{ name: field, label: words.fields[field], inputMode: 'numeric' as const, width: 'short' as const },
    ...{ value: draft[field], problem: problemAt(field) },
    onChange: (value: string) => onChange({ [field]: value }),
  });
  return (
    <>
      <div className="row">
        <Choice
          name="paper"
          label={words.paper}
          value={draft.paper}
          onChange={(paper) => onChange({ paper })}
          options={(['a4', 'letter'] as const).map((value) => ({ value, label: words.papers[value] }))}
        />
        <Choice
          name="code"
          label={words.code}
          value={draft.code}
          onChange={(code) => onChange({ code })}
          options={(['qr', 'data-matrix'] as const).map((value) => ({ value, label: words.codes[value] }))}
        />
      </div>
      <div className="field-pair">
        <Field {...count('columns')} />
        <Field {...count('rows')} />
        <Field {...length('labelWidthMm')} />
        <Field {...length('labelHeightMm')} />
        <Field {...length('marginLeftMm')} />
        <Field {...length('marginTopMm')} />
        <Field {...length('gapAcrossMm')} />
        <Field {...length('gapDownMm')} />
        <Field {...length('offsetRightMm')} help={words.offsetHelp} signed />
        <Field {...length('offsetDownMm')} signed />
        <Field {...count('firstLabel')} help={words.firstHelp} />
      </div>
    </>
  );
}
