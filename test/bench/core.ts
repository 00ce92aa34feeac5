/** The computation alone: the public function against the same arithmetic written as one bare loop. */
import type * as Volume from '../../server/metrology/volume.ts';
import { built } from './built.ts';
import { draws } from './draws.ts';
import { evaluations } from './evaluations.ts';
import { atLeast, interleavedRatio, remark, timed } from './measure.ts';
import type { Measure } from './measure.ts';

type WeighedWater = Volume.WeighedWater;

const TRIALS = 20_000;
const PASSES = 50;
const ROUNDS = 11;

/** Trials as a class weighs them: each with its own mass, temperatures, pressure and humidity. */
function weighings(): WeighedWater[] {
  return Array.from({ length: TRIALS }, (_, index) => ({
    massG: 99.5 + (index % 1000) / 1000,
    waterTemperatureC: 18 + (index % 61) / 10,
    airTemperatureC: 19 + (index % 31) / 10,
    airPressureHpa: 980 + (index % 47),
    relativeHumidityPercent: 35 + (index % 29),
    expansionPerK: 9.9e-6,
    referenceTemperatureC: 20,
  }));
}

export async function core(): Promise<Measure[]> {
  return [await volumesRatio(), await evaluations(), await draws()];
}

async function volumesRatio(): Promise<Measure> {
  const { volumeAtReference } = await built<typeof Volume>('server/metrology/volume.js');
  const publicSum = (waters: readonly WeighedWater[]) => {
    let sum = 0;
    for (const water of waters) sum += volumeAtReference(water);
    return sum;
  };
  const trials = weighings();
  const agreed = Math.abs(publicSum(trials) - bareSum(trials));
  if (agreed > 1e-6) throw new Error(`The bare loop computes something else: the sums differ by ${agreed} mL.`);
  const rate = async (sum: (waters: readonly WeighedWater[]) => number) => {
    const seconds = await timed(() => {
      for (let pass = 0; pass < PASSES; pass += 1) sum(trials);
    });
    return (TRIALS * PASSES) / seconds;
  };
  await rate(publicSum);
  await rate(bareSum);
  const result = await interleavedRatio(
    ROUNDS,
    () => rate(publicSum),
    () => rate(bareSum),
  );
  remark(`${Math.round(result.first)} volumes/s, bare loop ${Math.round(result.second)} volumes/s`);
  return atLeast('core.volumes-ratio', result.ratio, '1', 0.5);
}

/** Tanaka 2001, CIPM-2007 and the volume equation in one body, without a call, a check or a name. */
function bareSum(waters: readonly WeighedWater[]): number {
  let sum = 0;
  for (const w of waters) {
    const shifted = w.waterTemperatureC - 3.983035;
    const water =
      999.97495 *
      (1 - (shifted * shifted * (w.waterTemperatureC + 301.797)) / (522528.9 * (w.waterTemperatureC + 69.34881)));
    const t = w.airTemperatureC;
    const k = t + 273.15;
    const p = w.airPressureHpa * 100;
    const f = 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;
    const psv = Math.exp(1.2378847e-5 * k * k - 1.9121316e-2 * k + 33.93711047 - 6.3431645e3 / k);
    const xv = ((w.relativeHumidityPercent / 100) * f * psv) / p;
    const q = p / k;
    const s =
      1.58123e-6 -
      2.9331e-8 * t +
      1.1043e-10 * t * t +
      (5.707e-6 - 2.051e-8 * t) * xv +
      (1.9898e-4 - 2.376e-6 * t) * xv * xv;
    const z = 1 - q * s + q * q * (1.83e-11 - 0.765e-8 * xv * xv);
    const air = ((p * 28.96546e-3) / (z * 8.314472 * k)) * (1 - (1 - 18.01528 / 28.96546) * xv);
    sum +=
      ((w.massG * 1000 * (1 - air / 8000)) / (water - air)) *
      (1 - w.expansionPerK * (w.waterTemperatureC - w.referenceTemperatureC));
  }
  return sum;
}
