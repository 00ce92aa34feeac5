/** Papers of a solution, from the record to the bytes. */
import { makePdf } from '../certificates/pdf/making.ts';
import { summaryHead } from '../certificates/view-summaries.ts';
import { localDay } from '../clock.ts';
import type { Reading } from '../db/logbook.ts';
import type { PreparationPaper } from './papers/facts.ts';
import { findPreparation } from './store.ts';
import { preparationOnWire } from './view.ts';

/** What a paper says of a solution; null where there is none. */
export const preparationPaper = async (db: Reading, id: string, now: Date): Promise<PreparationPaper | null> => {
  const stored = await findPreparation(db, id);
  if (!stored) return null;
  return { ...(await summaryHead(db, now)), preparation: await preparationOnWire(db, stored, localDay(now)) };
};

export const setLabel = (input: PreparationPaper): Promise<Buffer> => makePdf({ kind: 'preparation-label', input });
export const setSheet = (input: PreparationPaper): Promise<Buffer> => makePdf({ kind: 'preparation-sheet', input });
