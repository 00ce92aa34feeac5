import { Suspense, useEffect } from 'react';
import { useSearchParams } from 'wouter';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import { benchRoomText } from '../../messages/en-bench.ts';
import { ForBench } from '../../parts/for-bench.tsx';
import { later } from '../../parts/later.tsx';
import { Section } from '../../parts/page.tsx';

/** Most readings come from a balance: whoever types no sheets does not fetch it. */
const TypeSheet = later(() => import('./type-sheet.tsx'));

/** Where the tag of the next sheet is typed. */
export const focusNextSheet = (): void => document.getElementById('tag')?.focus();

/** A pile of sheets is typed one after the other: below the readings of one, the tag of the next. */
export function NextSheet({ origin }: Pick<Calibration, 'origin'>) {
  if (origin !== 'sheet') return null;
  return (
    <ForBench>
      <Section title={benchRoomText.nextSheet}>
        <Suspense fallback={null}>
          <TypeSheet help={benchRoomText.nextSheetHelp} />
        </Suspense>
      </Section>
    </ForBench>
  );
}

/** Whoever comes from one sheet to the next types on without a pointer: the cursor stands in the first field. */
export function useFirstCell(names: readonly string[]): void {
  const [search] = useSearchParams();
  const isFromSheet = search.get('from') === 'sheet';
  useEffect(() => {
    if (!isFromSheet) return;
    const fields = names.map((name) => document.getElementById(name));
    fields.find((field) => field instanceof HTMLInputElement && !field.readOnly && field.value === '')?.focus();
    // Once, when the page opens: what is typed then moves the cursor itself.
  }, []);
}
