/** A series of dilutions with the one-mark ware of the register, in service and in date. */
import type { Reading } from '../db/logbook.ts';
import type { Basis, VesselKind } from '../metrology/record.ts';
import { stockModel, type Stock } from '../metrology/solutions/dilute.ts';
import { propagate } from '../metrology/solutions/propagate.ts';
import { recipeModel } from '../metrology/solutions/recipe.ts';
import { planSeries, type SeriesSolution } from '../metrology/solutions/series.ts';
import { invalid } from '../problem.ts';
import { known, type Known } from './choosing.ts';
import type { SeriesBody, SeriesReply } from './contract-choice.ts';
import { stockOf } from './from-stock.ts';
import type { Gathering } from './gathering.ts';
import { findCandidates } from './store-candidates.ts';
import { expansionOf, temperatureOf } from './weighed.ts';

const MOST = 40;
const PROBABILITY = 0.95;

interface Ware {
  kind: VesselKind;
  basis: Basis;
  chosen: readonly string[] | undefined;
}

/** Vessels to plan with: those chosen, or two of each size. */
const wareOf = async (db: Reading, ware: Ware, by: { actor: string; now: Date }): Promise<Known[]> => {
  const sizes = { fromMl: 0, toMl: Number.MAX_SAFE_INTEGER };
  const found = await findCandidates(db, { kinds: [ware.kind], basis: ware.basis, ...sizes, limit: 500 });
  const chosen = found.filter(({ id }) => ware.chosen === undefined || ware.chosen.includes(id));
  const vessels: Known[] = [];
  const perSize = new Map<string, number>();
  for (const one of chosen) {
    const vessel = await known(db, one, { ...by, volumeMl: null });
    if (!vessel || vessel.overdue) continue;
    const { nominalVolumeMl } = vessel.vessel;
    const before = perSize.get(nominalVolumeMl) ?? 0;
    // Two of a size suffice: more of the same change neither the steps nor how the best of them compare.
    if (ware.chosen === undefined && before >= 2) continue;
    perSize.set(nominalVolumeMl, before + 1);
    vessels.push(vessel);
    if (vessels.length === MOST) break;
  }
  return vessels;
};

const onWire =
  (ware: ReadonlyMap<string, Known>, targets: readonly string[]) =>
  (solution: SeriesSolution, index: number): SeriesReply['solutions'][number] => {
    const named = (key: string) => {
      const vessel = ware.get(key)?.vessel;
      if (!vessel) throw new Error(`the plan names ${key}, which it was not given`);
      return { vesselId: vessel.id, tag: vessel.tag, pointMl: vessel.nominalVolumeMl };
    };
    const { steps, from, transfers, value, combined } = solution;
    return {
      target: targets[index] ?? '',
      steps: steps.map(({ deliveries, madeUpIn }) => ({
        deliveries: deliveries.map(({ key }) => named(key)),
        madeUpIn: named(madeUpIn.key),
      })),
      from,
      transfers,
      value,
      combinedUncertainty: combined,
      relativePercent: value === null || combined === null ? null : (100 * combined) / value,
    };
  };

const usable = ({ use }: Known): boolean => use.measured !== null || use.toleranceMl !== null;

/** @throws Problem `validation-failed` at the stock, or at a concentration that is no dilution of it */
export const seriesFor = async (
  gathering: Gathering,
  body: SeriesBody,
  by: { actor: string; now: Date },
): Promise<SeriesReply> => {
  const found = await stockOf(gathering, body.stock);
  gathering.settle();
  if (!found) throw new Error('a stock that cannot be used was refused');
  const stock: Stock =
    found.stock.known === 'preparation'
      ? { known: 'model', key: found.stock.key, model: recipeModel(found.stock.recipe) }
      : found.stock;
  const { value: stockValue, unit } = propagate(stockModel(stock), PROBABILITY);
  const tooHigh = body.targets.flatMap((target, index) =>
    Number(target) < stockValue
      ? []
      : [{ pointer: `#/targets/${index}`, detail: `${target} ${unit} is not below the stock, ${stockValue} ${unit}.` }],
  );
  if (tooHigh.length > 0) throw invalid(tooHigh);
  const { db } = gathering;
  const [pipetteWare, flaskWare] = [
    { kind: 'single-volume-pipette', basis: 'deliver', chosen: body.pipetteIds },
    { kind: 'volumetric-flask', basis: 'contain', chosen: body.flaskIds },
  ] as const;
  const pipettes = (await wareOf(db, pipetteWare, by)).filter(usable);
  const flasks = (await wareOf(db, flaskWare, by)).filter(usable);
  const planned = planSeries({
    stock,
    stockValue,
    targets: body.targets.map(Number),
    aim: body.aim,
    pipettes: pipettes.map(({ use }) => use),
    flasks: flasks.map(({ use }) => use),
    temperature: temperatureOf(body),
    expansion: expansionOf(undefined),
    quotedC: Number(body.temperatureC),
  });
  const ware = new Map([...pipettes, ...flasks].map((one) => [one.use.key, one]));
  return {
    stock: { name: nameOf(body), value: stockValue, unit },
    solutions: planned.map(onWire(ware, body.targets)),
    pipettes: pipettes.length,
    flasks: flasks.length,
  };
};

const nameOf = ({ stock }: SeriesBody): string => (stock.from === 'preparation' ? 'preparation' : stock.name);
