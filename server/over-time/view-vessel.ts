/** A vessel's calibrations over time, as the wire shows them. */
import { withPools, type PooledCalibration } from '../calibrations/store-pool.ts';
import { loadCalibrations } from '../calibrations/store.ts';
import type { Reading } from '../db/logbook.ts';
import type { StoredVessel } from '../glassware/store.ts';
import { numberOf, numberOrNull, sameDecimal } from '../metrology/decimal.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { changeBetween, type Occasion, type SharedInstrument } from '../metrology/over-time/change.ts';
import { adviseInterval, nextCalibration, type PastCalibration } from '../metrology/over-time/interval.ts';
import { trendOf } from '../metrology/over-time/trend.ts';
import type { ThermometerFacts } from '../metrology/record.ts';
import type { CalibrationResult, PointResult } from '../metrology/result.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { DEFAULTS } from '../metrology/uncertainty-defaults.ts';
import type { VesselOverTime, VesselPointOverTime } from './contract.ts';
import { finishedIdsOf } from './store.ts';

const MS_PER_DAY = 86_400_000;
const DAYS_PER_YEAR = 365.25;
const dayOf = (iso: string): number => Date.parse(`${iso}T00:00:00Z`) / MS_PER_DAY;
const isoOf = (day: number): string => new Date(Math.round(day) * MS_PER_DAY).toISOString().slice(0, 10);

interface Result {
  stored: PooledCalibration;
  result: CalibrationResult;
}

/** Certificate of an instrument as a calibration used it: the same name twice means the same scale. */
function certificateOf(stored: PooledCalibration, role: SharedInstrument): string | null {
  const choice = stored.instruments[role];
  if (choice === undefined) return null;
  const facts = stored.record.instruments?.[role] as { certificateNumber?: string; certificateOn?: string } | undefined;
  return [choice.id, facts?.certificateNumber ?? '', facts?.certificateOn ?? ''].join(' ');
}

/** Standard uncertainty of the thermometer's scale, as the budget takes it. */
function scaleC(thermometer: ThermometerFacts | null | undefined, isAssumed: boolean): number {
  if (thermometer == null || isAssumed) return 0;
  const expanded = numberOrNull(thermometer.expandedUncertaintyC);
  if (expanded === null) return DEFAULTS.thermometerHalfWidthC.value / Math.sqrt(3);
  return expanded / (numberOrNull(thermometer.coverageFactor) ?? 2);
}

type MeasuredPoint = PointResult & { meanMl: number; biasMl: number; expandedUncertaintyMl: number };

const isMeasured = (point: PointResult | undefined): point is MeasuredPoint =>
  point !== undefined && point.meanMl !== null && point.biasMl !== null && point.expandedUncertaintyMl !== null;

function occasionOf({ stored, result }: Result, point: MeasuredPoint): Occasion {
  const trials = result.trials.filter((trial) => trial.exclusion == null && sameDecimal(trial.pointMl, point.pointMl));
  const isAssumed = trials.some((trial) => trial.waterTemperatureHalfWidthC != null);
  return {
    meanMl: point.meanMl,
    budget: point.budget,
    thermometerScaleC: scaleC(stored.record.instruments?.thermometer, isAssumed),
    certificates: { balance: certificateOf(stored, 'balance'), thermometer: certificateOf(stored, 'thermometer') },
    people: [...new Set(trials.map((trial) => trial.recordedBy ?? stored.recordedBy))],
  };
}

function pointOverTime(pointMl: string, results: readonly Result[]): VesselPointOverTime {
  let before: { id: string; occasion: Occasion } | null = null;
  const calibrations: VesselPointOverTime['calibrations'] = [];
  for (const one of results) {
    const point = one.result.points.find((candidate) => sameDecimal(candidate.pointMl, pointMl));
    if (!isMeasured(point)) continue;
    const { stored } = one;
    const occasion = occasionOf(one, point);
    const change = before === null ? null : changeBetween(before.occasion, occasion);
    calibrations.push({
      id: stored.id,
      performedOn: stored.record.performedOn,
      state: stored.state,
      n: point.n,
      meanMl: point.meanMl,
      biasMl: point.biasMl,
      expandedUncertaintyMl: point.expandedUncertaintyMl,
      toleranceMl: point.toleranceMl,
      verdict: point.verdict,
      change:
        change === null || before === null
          ? null
          : {
              fromId: before.id,
              changeMl: change.changeMl,
              standardUncertaintyMl: change.standardUncertaintyMl,
              normalisedChange: change.normalisedChange,
            },
    });
    before = { id: stored.id, occasion };
  }
  const toleranceMl = calibrations.at(-1)?.toleranceMl ?? null;
  const basis = results.at(-1)?.result.basis ?? 'contain';
  return { pointMl, basis, toleranceMl, calibrations, trend: trendAt(pointMl, calibrations, toleranceMl) };
}

function trendAt(
  pointMl: string,
  calibrations: VesselPointOverTime['calibrations'],
  toleranceMl: number | null,
): VesselPointOverTime['trend'] {
  const means = calibrations.map(({ performedOn, meanMl }) => ({ day: dayOf(performedOn), meanMl }));
  const trend = trendOf(means, numberOf(pointMl), toleranceMl);
  if (trend === null) return null;
  return {
    slopeMlPerYear: trend.slopeMlPerDay * DAYS_PER_YEAR,
    slopeHalfWidthMlPerYear: trend.slopeHalfWidthMlPerDay * DAYS_PER_YEAR,
    significant: trend.significant,
    band: trend.band.map(({ day, ...lines }) => ({ day: isoOf(day), ...lines })),
    leavesOn: trend.leavesOnDay === null ? null : isoOf(trend.leavesOnDay),
  };
}

/** What the staircase sees of one calibration: its verdict, and of its points the largest error and change. */
function pastOf({ stored, result }: Result, points: readonly VesselPointOverTime[]): PastCalibration {
  const own = points.flatMap(({ calibrations }) => calibrations.filter(({ id }) => id === stored.id));
  const shares = own.flatMap(({ biasMl, toleranceMl }) =>
    toleranceMl === null ? [] : [Math.abs(biasMl) / toleranceMl],
  );
  const changes = own.flatMap(({ change }) =>
    change?.normalisedChange == null ? [] : [Math.abs(change.normalisedChange)],
  );
  return {
    verdict: result.verdict,
    errorShare: shares.length === 0 ? null : Math.max(...shares),
    normalisedChange: changes.length === 0 ? null : Math.max(...changes),
  };
}

export const overTimeOf = async (db: Reading, vessel: StoredVessel): Promise<VesselOverTime> => {
  const ids = await finishedIdsOf(db, vessel.id);
  const loaded = await withPools(db, await loadCalibrations(db, ids));
  const all = ids.flatMap((id): Result[] => {
    const stored = loaded.get(id);
    return stored ? [{ stored, result: stored.frozen ?? evaluate(stored.record, toleranceRows) }] : [];
  });
  const results = all.filter(
    ({ stored, result }) =>
      result.basis === vessel.basis &&
      sameDecimal(stored.record.vessel.referenceTemperatureC, vessel.referenceTemperatureC),
  );
  const pointTexts: string[] = [];
  for (const { result } of results)
    for (const { pointMl } of result.points)
      if (!pointTexts.some((known) => sameDecimal(known, pointMl))) pointTexts.push(pointMl);
  const points = pointTexts.map((pointMl) => pointOverTime(pointMl, results));
  const advice = adviseInterval(results.map((one) => pastOf(one, points)));
  const leaving = points.flatMap(({ trend }) => (trend?.leavesOn == null ? [] : [trend.leavesOn]));
  const last = results.at(-1)?.stored.record.performedOn;
  return {
    vesselId: vessel.id,
    points,
    leftOut: all.length - results.length,
    interval: last === undefined ? { ...advice, nextOn: null } : nextCalibration(advice, last, leaving),
  };
};
