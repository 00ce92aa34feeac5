import { useEffect } from 'react';
import { Link, useLocation, useSearchParams } from 'wouter';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import { benchRoomText } from '../../messages/en-bench.ts';
import { startText } from '../../messages/en-start.ts';
import { ForBench } from '../../parts/for-bench.tsx';
import { Section } from '../../parts/page.tsx';
import { AddByTag } from '../labels/add-by-tag.tsx';
import '../bench-room.css';

const FROM_SHEET = 'from=sheet';

/** Where the tag of the next sheet is typed. */
export const focusNextSheet = (): void => document.getElementById('tag')?.focus();

/** The tag as it stands on the sheet, or its code under a scanner, leads to typing it in. */
export function TypeSheet({ help }: { help: string }) {
  const [, go] = useLocation();
  return (
    <div className="stack">
      <p className="quiet">{help}</p>
      <AddByTag
        label={benchRoomText.sheetTag}
        act={startText.typeSheet}
        onFound={(id, { latest }) =>
          go(latest?.state === 'open' ? `/bench/${latest.id}?${FROM_SHEET}` : `/bench/new?vessel=${id}&${FROM_SHEET}`)
        }
      />
      <p>
        <Link className="link-line" href="/glassware/sheets">
          {benchRoomText.printSheets}
        </Link>
      </p>
    </div>
  );
}

/** A pile of sheets is typed one after the other: below the readings of one, the tag of the next. */
export function NextSheet({ origin }: Pick<Calibration, 'origin'>) {
  if (origin !== 'sheet') return null;
  return (
    <ForBench>
      <Section title={benchRoomText.nextSheet}>
        <TypeSheet help={benchRoomText.nextSheetHelp} />
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
