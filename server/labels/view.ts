/** What labels say, gathered as the record stands. */
import { summarise } from '../certificates/view-summaries.ts';
import type { Reading } from '../db/logbook.ts';
import { printsVerdict } from '../tolerances/view-basis.ts';
import type { LabelFacts } from './contract.ts';
import { completedCalibrations, labelledVessels } from './store.ts';

/** In the order of the ids. A verdict is printed where every other paper prints it. */
export const labelsOf = async (db: Reading, ids: readonly string[]): Promise<LabelFacts[]> => {
  if (ids.length === 0) return [];
  const vessels = await labelledVessels(db, ids);
  const completed = await completedCalibrations(db, ids);
  const summarised = await summarise(db, [...completed.values()]);
  const byVessel = new Map(summarised.map(({ vessel, calibration }) => [vessel.id, calibration]));
  return vessels.map(({ id, tag, inUse, dueOn }): LabelFacts => {
    const calibration = byVessel.get(id);
    const isPrinted = calibration !== undefined && printsVerdict(calibration.toleranceBasis);
    return {
      ...{ id, tag, inUse },
      verdict: isPrinted ? calibration.result.verdict : null,
      performedOn: calibration?.performedOn ?? null,
      dueOn,
    };
  });
};
