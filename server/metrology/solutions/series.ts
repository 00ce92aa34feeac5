import { dilutionModels } from './dilute.ts';
import type { Dilution, DilutionStep, Stock } from './dilute.ts';
import { propagate } from './propagate.ts';
import type { LiquidTemperature, SolutionExpansion, VesselInUse } from './vessel-in-use.ts';

/** What a plan may use. */
export interface SeriesWare {
  /** One-mark vessels to deliver. */
  pipettes: readonly VesselInUse[];
  /** Vessels to make up to the mark. */
  flasks: readonly VesselInUse[];
}

export interface SeriesTask extends SeriesWare {
  stock: Stock;
  /** Concentration of the stock, in the unit of the targets. */
  stockValue: number;
  /** Wanted concentrations, each below that of the stock. */
  targets: readonly number[];
  aim: 'fewest-transfers' | 'least-uncertainty';
  temperature: LiquidTemperature;
  expansion: SolutionExpansion;
  quotedC: number;
}

export interface SeriesSolution {
  target: number;
  /** Steps from the stock on; empty where no ware makes it. */
  steps: DilutionStep[];
  /** Index of the earlier solution the last step starts from; null for the stock. */
  from: number | null;
  transfers: number;
  value: number | null;
  combined: number | null;
}

/** A ratio counts as met within this share: concentrations are typed, not measured. */
const SAME = 1e-6;
/** Most steps one solution may be away from its source. */
const MOST_STEPS = 3;
/** Ways compared by their uncertainty. */
const MOST_COMPARED = 12;
const PROBABILITY = 0.95;

interface Ratio {
  ratio: number;
  steps: DilutionStep[];
  transfers: number;
}

const isSame = (one: number, other: number): boolean => Math.abs(one - other) <= SAME * Math.abs(other);

/** Single dilutions, one delivery or the same pipette twice; of equal ones all vessels, for their uncertainty differs. */
function singleSteps({ pipettes, flasks }: SeriesWare): Ratio[] {
  const ratios: Ratio[] = [];
  for (const madeUpIn of flasks) {
    for (const pipette of pipettes) {
      for (const deliveries of [[pipette], [pipette, pipette]]) {
        const ratio = (deliveries.length * pipette.nominalMl) / madeUpIn.nominalMl;
        if (ratio < 1) ratios.push({ ratio, steps: [{ deliveries, madeUpIn }], transfers: deliveries.length });
      }
    }
  }
  return ratios;
}

/** One way for each ratio, the fewest transfers first: the stones longer ways are built from. */
function distinct(ratios: readonly Ratio[]): Ratio[] {
  const sorted = [...ratios].sort((one, other) => one.transfers - other.transfers);
  const kept: Ratio[] = [];
  for (const one of sorted) if (!kept.some(({ ratio }) => isSame(ratio, one.ratio))) kept.push(one);
  return kept;
}

function joined(one: Ratio, other: Ratio): Ratio {
  return {
    ratio: one.ratio * other.ratio,
    steps: [...one.steps, ...other.steps],
    transfers: one.transfers + other.transfers,
  };
}

/** Ways to a ratio: in one step where any vessel does it, else in two, else in three. */
function waysTo(ratio: number, singles: readonly Ratio[], stones: readonly Ratio[]): Ratio[] {
  let longer: Ratio[] = [...singles];
  for (let steps = 1; steps <= MOST_STEPS; steps += 1) {
    const ways = longer.filter((way) => isSame(way.ratio, ratio));
    if (ways.length > 0) return ways.sort((one, other) => one.transfers - other.transfers).slice(0, MOST_COMPARED);
    const bases = steps === 1 ? stones : distinct(longer);
    longer = bases.flatMap((base) => stones.map((stone) => joined(base, stone)));
  }
  return [];
}

interface Way {
  steps: DilutionStep[];
  from: number | null;
  transfers: number;
  value: number;
  combined: number;
}

function weigh(task: SeriesTask, steps: DilutionStep[]): { value: number; combined: number } {
  const { stock, temperature, expansion, quotedC } = task;
  const dilution: Dilution = { stock, steps, temperature, expansion, quotedC };
  const last = dilutionModels(dilution).at(-1);
  if (!last) throw new RangeError('a plan has at least one step');
  const { value, combined } = propagate(last, PROBABILITY);
  return { value, combined };
}

function better(task: SeriesTask, one: Way, other: Way | null): boolean {
  if (other === null) return true;
  const [u, v] = [one.combined / one.value, other.combined / other.value];
  if (task.aim === 'least-uncertainty') return u < v;
  return one.transfers < other.transfers || (one.transfers === other.transfers && u < v);
}

function wayTo(
  task: SeriesTask,
  target: number,
  made: readonly SeriesSolution[],
  singles: Ratio[],
  stones: Ratio[],
): Way | null {
  const sources = [
    { from: null as number | null, value: task.stockValue, steps: [] as DilutionStep[], transfers: 0 },
    ...made.map(({ target: value, steps }, from) => ({ from, value, steps, transfers: 0 })),
  ].filter(({ from, value, steps }) => value > target && (from === null || steps.length > 0));
  let best: Way | null = null;
  for (const source of sources) {
    for (const way of waysTo(target / source.value, singles, stones)) {
      const steps = [...source.steps, ...way.steps];
      const candidate = { steps, from: source.from, transfers: way.transfers, ...weigh(task, steps) };
      if (better(task, candidate, best)) best = candidate;
    }
  }
  return best;
}

/**
 * A series of dilutions with the ware at hand: for each wanted concentration, from the highest on, the way with the
 * fewest transfers or the least uncertainty, from the stock or from a solution of the series made before. A vessel
 * used again errs the same way each time.
 * @returns one solution for each target, in the order of the targets; without steps where no ware makes it
 * @throws RangeError when a target is not above 0 or not below the stock
 * @source jcgm-100-2008, 5.2.2, for the correlation of steps; the search is our own
 */
export function planSeries(task: SeriesTask): SeriesSolution[] {
  const { targets, stockValue } = task;
  if (targets.some((target) => !(target > 0) || target >= stockValue)) {
    throw new RangeError('a dilution is above 0 and below its stock');
  }
  const singles = singleSteps(task);
  const stones = distinct(singles);
  const order = targets.map((_, index) => index).sort((one, other) => (targets[other] ?? 0) - (targets[one] ?? 0));
  const made: SeriesSolution[] = [];
  const places: number[] = [];
  for (const index of order) {
    const target = targets[index] as number;
    const way = wayTo(task, target, made, singles, stones);
    made.push({
      target,
      steps: way?.steps ?? [],
      from: way === null || way.from === null ? null : (places[way.from] ?? null),
      transfers: way?.transfers ?? 0,
      value: way?.value ?? null,
      combined: way?.combined ?? null,
    });
    places.push(index);
  }
  return targets.map((_, index) => made[places.indexOf(index)] as SeriesSolution);
}
