/** What papers say of a solution, as plain data: they are set in a thread that reads no logbook. */
import type { SummaryHead } from '../../certificates/pdf/summary.ts';
import { significant } from '../../metrology/display.ts';
import type { Preparation } from '../contract-record.ts';

export interface PreparationPaper extends SummaryHead {
  preparation: Pick<
    Preparation,
    | 'number'
    | 'title'
    | 'madeOn'
    | 'expiresOn'
    | 'recordedBy'
    | 'hazardLine'
    | 'water'
    | 'lots'
    | 'note'
    | 'approximate'
    | 'quotedAtC'
    | 'result'
    | 'instruments'
    | 'end'
    | 'solution'
  >;
  /** Number of the solution of the shelf it was made from, or measured against. */
  stockNumber: string | null;
}

type Shown = Pick<PreparationPaper['preparation'], 'approximate' | 'result'>;

/** `0.02004 ± 0.00041 mol/L`; “about” and no more than two digits where it is approximate. */
export const concentrationWords = ({ approximate, result }: Shown): string => {
  const { value, unit, expandedUncertainty, significantDigits } = result;
  const uncertain = `${significant(value, significantDigits)} ± ${significant(expandedUncertainty, 2)} ${unit}`;
  return approximate ? `about ${uncertain}` : uncertain;
};

export const HAZARDS_BY_HAND = 'Hazards, by local rules:';
export const APPROXIMATE = 'Approximate until standardised.';
