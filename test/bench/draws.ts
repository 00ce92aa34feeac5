/** Monte Carlo draws of the whole model, every input drawn, both ends of the interval found by selection; one thread. */
import type * as Drawing from '../../server/metrology/monte-carlo.ts';
import type * as Referee from '../../server/metrology/referee.ts';
import { built } from './built.ts';
import { atLeast, median, timed } from './measure.ts';
import type { Measure } from './measure.ts';
import { flaskRows, tenTrials } from './ten-trials.ts';

const DRAWS = 2_000_000;
const ROUNDS = 7;

export async function draws(): Promise<Measure> {
  const { drawAll } = await built<typeof Drawing>('server/metrology/monte-carlo.js');
  const { refereePoint } = await built<typeof Referee>('server/metrology/referee.js');
  const point = refereePoint(tenTrials(0), await flaskRows(), 0);
  if (point === null) throw new Error('There is nothing to draw.');
  const round = (seed: number) => () => {
    const options = { seed, probability: point.probability, tolerance: null, leastDraws: DRAWS, mostDraws: DRAWS };
    const drawn = drawAll(point.model, options);
    if (drawn.draws !== DRAWS || !(drawn.low < drawn.high)) throw new Error('The draws are not complete.');
  };
  round(1)();
  const rates: number[] = [];
  for (let count = 0; count < ROUNDS; count += 1) rates.push(DRAWS / (await timed(round(count + 2))));
  return atLeast('core.monte-carlo-draws-per-s', median(rates), '1/s', 2_500_000);
}
