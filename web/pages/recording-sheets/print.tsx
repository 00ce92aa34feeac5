import { useState } from 'react';
import type { SheetForm } from '../../../server/recording-sheets/contract.ts';
import { withQuery } from '../../api.ts';
import { labelsText } from '../../messages/en-labels.ts';
import { recordingSheetText as words } from '../../messages/en-recording-sheets.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import type { SheetPaper } from '../../plots/label-sheet.ts';
import { AddByTag } from '../labels/add-by-tag.tsx';
import { Chosen, type ChosenProps } from '../labels/chosen.tsx';
import { useChosen } from '../labels/use-chosen.ts';

const FORMS = ['vessel', 'compact'] as const satisfies readonly SheetForm[];
const PAPERS = ['a4', 'letter'] as const satisfies readonly SheetPaper[];
const MOST_TRIALS = 30;

/** `/glassware/sheets?vessels=…` or `?lot=…`: blank recording sheets for these vessels. */
export default function PrintSheetsPage() {
  const { labels, choose } = useChosen();
  return (
    <>
      <PageHeader title={words.title} lead={words.lead} within={{ href: '/glassware', label: vesselText.title }} />
      <Loaded query={labels} what={words.what}>
        {({ items }) => <Sheets labels={items} choose={choose} />}
      </Loaded>
    </>
  );
}

const isWhole = (typed: string): boolean =>
  typed === '' || (/^\d{1,2}$/.test(typed) && Number(typed) >= 1 && Number(typed) <= MOST_TRIALS);

function Sheets({ labels, choose }: ChosenProps) {
  const [form, setForm] = useState<SheetForm>(labels.length > 3 ? 'compact' : 'vessel');
  const [paper, setPaper] = useState<SheetPaper>('a4');
  const [trials, setTrials] = useState('');
  const typed = trials.trim();
  const ids = labels.map(({ id }) => id);
  const weighed = labels.filter(({ inUse }) => inUse).map(({ id }) => id);
  const print = () => {
    if (!isWhole(typed)) return document.getElementById('trials')?.focus();
    const query = { vessels: weighed.join(','), form, paper, trials: typed };
    window.open(withQuery('/api/recording-sheets.pdf', query), '_blank', 'noopener');
  };
  return (
    <>
      <Section title={labelsText.chosen}>
        {labels.length === 0 ? <p className="quiet">{labelsText.none}</p> : <Chosen labels={labels} choose={choose} />}
        {weighed.length < labels.length && <p>{words.outOfUse(labels.length - weighed.length)}</p>}
        <AddByTag onFound={(id) => choose([...ids.filter((one) => one !== id), id])} />
      </Section>
      <Section title={words.howPrinted}>
        <div className="stack">
          <Choice
            name="form"
            label={words.form}
            layout="list"
            value={form}
            onChange={setForm}
            options={FORMS.map((value) => ({ value, label: words.forms[value], help: words.formNotes[value] }))}
          />
          <Choice
            name="paper"
            label={labelsText.paper}
            value={paper}
            onChange={setPaper}
            options={PAPERS.map((value) => ({ value, label: labelsText.papers[value] }))}
          />
          <Field
            name="trials"
            label={words.trials}
            help={words.trialsHelp}
            inputMode="numeric"
            width="short"
            optional
            value={trials}
            problem={isWhole(typed) ? undefined : words.trialsWhole}
            onChange={setTrials}
          />
          <div className="row">
            <Button look="primary" bench disabled={weighed.length === 0} onClick={print}>
              {words.print}
            </Button>
          </div>
        </div>
      </Section>
    </>
  );
}
