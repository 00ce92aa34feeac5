/** What papers and tables about a class are made from: its data with the names as they are shown. */
import { summaryHead } from '../certificates/view-summaries.ts';
import type { Reading } from '../db/logbook.ts';
import type { ClassData } from './contract-class.ts';
import type { ClassPaperInput } from './papers/class-paper.ts';
import type { StoredExperiment } from './store.ts';
import { classDataOf } from './view-class.ts';

/** Names that are hidden at the board, all of them or those of single groups, stand on no paper either. */
export const shownDataOf = async (db: Reading, stored: StoredExperiment): Promise<ClassData> => {
  const data = await classDataOf(db, stored);
  const groups = data.groups.map((group) => (stored.namesHidden || group.hidden ? { ...group, name: null } : group));
  return { ...data, groups };
};

export const paperInputOf = async (db: Reading, stored: StoredExperiment, now: Date): Promise<ClassPaperInput> => {
  const { asks, balances, cautionNote, expectedGroups } = stored.plan;
  return {
    ...(await summaryHead(db, now)),
    data: await shownDataOf(db, stored),
    plan: { asks, balances, cautionNote, expectedGroups },
  };
};
