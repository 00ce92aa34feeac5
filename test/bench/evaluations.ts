/** Full evaluations of a ten-trial point: every trial, the budget, the coverage factor, the probability of conformity. */
import type * as Evaluate from '../../server/metrology/evaluate.ts';
import { built } from './built.ts';
import { atLeast, median, timed } from './measure.ts';
import type { Measure } from './measure.ts';
import { flaskRows, tenTrials } from './ten-trials.ts';

const RECORDS = 500;
const EVALUATIONS = 25_000;
const ROUNDS = 7;

export async function evaluations(): Promise<Measure> {
  const { evaluate } = await built<typeof Evaluate>('server/metrology/evaluate.js');
  const rows = await flaskRows();
  const records = Array.from({ length: RECORDS }, (_, index) => tenTrials(index));
  const round = () => {
    for (let count = 0; count < EVALUATIONS; count += 1) {
      const point = evaluate(records[count % RECORDS] ?? tenTrials(count), rows).points[0];
      if (point?.expandedUncertaintyMl == null || point.probabilityOfConformity == null)
        throw new Error('The evaluation is not full: no expanded uncertainty, or no probability of conformity.');
    }
  };
  round();
  const rates: number[] = [];
  for (let count = 0; count < ROUNDS; count += 1) rates.push(EVALUATIONS / (await timed(round)));
  return atLeast('core.evaluations-per-s', median(rates), '1/s', 50_000);
}
