import type { PreparationListItem } from '../../../server/solutions/contract-record.ts';
import { resultWords } from './result-words.ts';

/** What a solution of the shelf is, in one line. */
export const preparationWords = (one: PreparationListItem): string =>
  [one.title, resultWords(one), one.madeOn].join(' · ');
