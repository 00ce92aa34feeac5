/** Papers of a solution, from the record to the bytes. */
import { makePdf } from '../certificates/pdf/making.ts';
import { summaryHead } from '../certificates/view-summaries.ts';
import { localDay } from '../clock.ts';
import type { Reading } from '../db/logbook.ts';
import type { SolutionBody } from './contract.ts';
import type { PreparationPaper } from './papers/facts.ts';
import { findPreparation } from './store.ts';
import { preparationOnWire } from './view.ts';

const stockIdOf = (typed: SolutionBody): string | null => {
  if (typed.way === 'solid') return null;
  const named = typed.way === 'dilution' ? typed.stock : typed.standard;
  return named.from === 'preparation' ? named.preparationId : null;
};

/** What a paper says of a solution; null where there is none. */
export const preparationPaper = async (db: Reading, id: string, now: Date): Promise<PreparationPaper | null> => {
  const stored = await findPreparation(db, id);
  if (!stored) return null;
  const stockId = stockIdOf(stored.inputs);
  return {
    ...(await summaryHead(db, now)),
    preparation: await preparationOnWire(db, stored, localDay(now)),
    stockNumber: stockId === null ? null : ((await findPreparation(db, stockId))?.number ?? null),
  };
};

export const setLabel = (input: PreparationPaper): Promise<Buffer> => makePdf({ kind: 'preparation-label', input });
export const setSheet = (input: PreparationPaper): Promise<Buffer> => makePdf({ kind: 'preparation-sheet', input });
