/** What the server knows of the water and the zero of a round: where another tablet goes on. */
import type { Round, ShortTrial } from '../../../server/lots/contract-round.ts';
import type { RoundWater } from './grid-trial.ts';
import type { RoundMemory } from './round-memory.ts';

interface Weighed {
  vessel: number;
  trial: ShortTrial;
}

/** Of all vessels, in the order in which they were kept. */
const weighedIn = ({ rows }: Round): Weighed[] =>
  rows
    .flatMap(({ trials }, vessel) => trials.map((trial) => ({ vessel, trial })))
    .sort((one, other) => Date.parse(one.trial.recordedAt) - Date.parse(other.trial.recordedAt));

/** How often the balance went on to another vessel. */
const vesselsIn = (weighed: readonly Weighed[]): number =>
  weighed.filter(({ vessel }, index) => weighed[index - 1]?.vessel !== vessel).length;

/**
 * The water that was carried last is that of the round, and as old as the reading it was carried from. While nothing was
 * carried, the first reading is; a later one may be a vessel's own.
 */
function waterIn(weighed: readonly Weighed[]): RoundWater | null {
  const trials = weighed.map(({ trial }) => trial);
  const last = trials.findLast(({ waterTemperatureSource }) => waterTemperatureSource === 'carried') ?? trials[0];
  if (last === undefined) return null;
  const isSame = ({ waterTemperatureC }: ShortTrial): boolean => waterTemperatureC === last.waterTemperatureC;
  const until = trials.slice(0, trials.indexOf(last) + 1);
  const read = until.findLast((trial) => isSame(trial) && trial.waterTemperatureSource !== 'carried') ?? last;
  return { temperatureC: last.waterTemperatureC, readAtMs: Date.parse(read.recordedAt), readFor: read.recordedAt };
}

/** @param round as the server has it; a round from a sheet knows neither */
export function knownOf(round: Round): RoundMemory {
  const weighed = round.origin === null ? weighedIn(round) : [];
  const zero = round.zeroChecks.at(-1);
  const since = zero ? weighed.filter(({ trial }) => Date.parse(trial.recordedAt) > Date.parse(zero.at)) : weighed;
  const vessels = Math.max(vesselsIn(weighed), zero?.afterVessels ?? 0);
  return { water: waterIn(weighed), weighed: vessels, sinceZero: vesselsIn(since) };
}

/** This browser's own memory, unless it has weighed less than the server knows of: then another was at this round. */
export function together(own: RoundMemory, known: RoundMemory): RoundMemory {
  const isBehind = own.weighed < known.weighed;
  const isOlder = known.water !== null && (own.water?.readAtMs ?? Number.NEGATIVE_INFINITY) < known.water.readAtMs;
  const isOther = isOlder && own.water?.temperatureC !== known.water?.temperatureC;
  return {
    water: isOther ? known.water : own.water,
    weighed: isBehind ? known.weighed : own.weighed,
    sinceZero: isBehind ? known.sinceZero : own.sinceZero,
  };
}
