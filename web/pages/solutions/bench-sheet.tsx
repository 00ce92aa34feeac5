import { useState } from 'react';
import { fetchFile } from '../../api.ts';
import { benchSheetText as words } from '../../messages/en-bench-sheet.ts';
import { labelsText } from '../../messages/en-labels.ts';
import { Button } from '../../parts/button.tsx';
import { Select } from '../../parts/field.tsx';
import { refusedHere, type Submission } from '../../parts/refusal.tsx';
import type { SheetPaper } from '../../plots/label-sheet.ts';
import { atFormFields } from './keeping.ts';
import type { Problems } from './reading.ts';

const PAPERS = ['a4', 'letter'] as const satisfies readonly SheetPaper[];

/** What a plan needs no answer to: readings come later. */
export const withoutReadings = (problems: Problems, readings: string): Problems =>
  Object.fromEntries(Object.entries(problems).filter(([field]) => !field.startsWith(readings)));

interface BenchSheetProps {
  plan: object;
  problems: Problems;
  submission: Submission;
}

/** A blank sheet of what is planned, as PDF; what is missing stands at its field. */
export function BenchSheet({ plan, problems, submission }: BenchSheetProps) {
  const [paper, setPaper] = useState<SheetPaper>('a4');
  const print = async () => {
    const refused = refusedHere(problems);
    if (refused) return submission.setRefusal(refused);
    await submission.submit(async () => {
      try {
        saveAs(await fetchFile('/api/solutions/bench-sheet.pdf', { plan, paper }));
      } catch (error) {
        throw atFormFields(error, '#/plan/');
      }
    });
  };
  return (
    <section className="stack tight">
      <h2>{words.title}</h2>
      <p className="quiet">{words.what}</p>
      <div className="field-pair">
        <Select
          name="paper"
          label={labelsText.paper}
          value={paper}
          options={PAPERS.map((value) => ({ value, label: labelsText.papers[value] }))}
          onChange={(chosen) => chosen !== '' && setPaper(chosen)}
        />
      </div>
      <div className="row">
        <Button disabled={submission.busy} onClick={() => void print()}>
          {words.print}
        </Button>
      </div>
    </section>
  );
}

/** The browser keeps the file as it keeps any download. */
function saveAs(file: Blob): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = words.fileName;
  link.click();
  // Some browsers read the file only after the click was handled.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
