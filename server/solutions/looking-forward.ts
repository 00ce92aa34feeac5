/** A vessel or a balance was found wrong: what every solution made with it could be. */
import type { Reading } from '../db/logbook.ts';
import { allChecksOf, type StoredInstrument } from '../instruments/store.ts';
import type { StoredVessel } from '../glassware/store.ts';
import { numberOf } from '../metrology/decimal.ts';
import { finding } from '../metrology/findings.ts';
import type { Recipe } from '../metrology/solutions/recipe.ts';
import { recipeModel } from '../metrology/solutions/recipe.ts';
import type { VesselInUse } from '../metrology/solutions/vessel-in-use.ts';
import type { TouchedList, TouchedPreparation } from './contract-record.ts';
import { usableCalibrations } from './gathering.ts';
import { atMark, betweenReadings, type GoodCalibration } from './in-use.ts';
import { decisionsOf, endsOf } from './store-decisions.ts';
import { preparationsWithInstrument, preparationsWithVessel, type StoredPreparation } from './store.ts';
import { listItemOf } from './view.ts';

const isBad = ({ result }: GoodCalibration): boolean =>
  result.verdict === 'fail' || result.verdict === 'conditional-fail';

/** Key of a part of a scale: vessel and calibration, then its two readings. */
const PART = /^vessel:([a-z0-9]+)@[a-z0-9]+(?::([\d.]+)-([\d.]+))?$/;

/** The same use of a vessel with the volume it has by another calibration. */
const usedNow = (used: VesselInUse, vessel: StoredVessel, calibration: GoodCalibration): VesselInUse => {
  const [, id, from, to] = PART.exec(used.key) ?? [];
  if (id !== vessel.id) return used;
  const use = { vessel, calibration, actor: calibration.recordedBy };
  return from === undefined || to === undefined
    ? atMark(use, String(used.nominalMl))
    : betweenReadings(use, Number(from), Number(to));
};

type Change = (used: VesselInUse) => VesselInUse;

/** A recipe with every use of a vessel changed, in its stock too. */
const withVessels = (recipe: Recipe, change: Change): Recipe => {
  switch (recipe.way) {
    case 'solid': {
      const { madeUp } = recipe.solid;
      if (madeUp.by === 'mass') return recipe;
      return { ...recipe, solid: { ...recipe.solid, madeUp: { ...madeUp, vessel: change(madeUp.vessel) } } };
    }
    case 'dilution': {
      const { stock, steps } = recipe.dilution;
      const before = stock.known === 'preparation' ? { ...stock, recipe: withVessels(stock.recipe, change) } : stock;
      const changed = steps.map((step) => ({
        deliveries: step.deliveries.map(change),
        madeUpIn: change(step.madeUpIn),
      }));
      return { ...recipe, dilution: { ...recipe.dilution, stock: before, steps: changed } };
    }
    case 'standardisation': {
      const { standard, titrations } = recipe.standardisation;
      const known =
        standard.known === 'preparation' ? { ...standard, recipe: withVessels(standard.recipe, change) } : standard;
      const changed = titrations.map(({ titrand, delivered }) => ({
        titrand: titrand.by === 'volume' ? { ...titrand, pipette: change(titrand.pipette) } : titrand,
        delivered: change(delivered),
      }));
      return { ...recipe, standardisation: { ...recipe.standardisation, standard: known, titrations: changed } };
    }
  }
};

const valueOf = (recipe: Recipe): number => {
  const model = recipeModel(recipe);
  return model.output(model.influences.map(({ value }) => value));
};

const shiftOf = (stored: StoredPreparation, value: number): TouchedPreparation['shift'] => {
  const percent = 100 * (value / stored.result.value - 1);
  const { accuracyPercent } = stored;
  return {
    value,
    percent,
    matters: accuracyPercent === null ? null : Math.abs(percent) > numberOf(accuracyPercent) / 3,
  };
};

type Shown = (stored: StoredPreparation, shift: TouchedPreparation['shift']) => TouchedPreparation;

/** Rows of a list: each with its end and its newest decision about this cause. */
const showing = async (
  db: Reading,
  found: readonly StoredPreparation[],
  about: { vesselId?: string; instrumentId?: string; today: string },
): Promise<Shown> => {
  const ids = found.map(({ id }) => id);
  const ends = await endsOf(db, ids);
  const decisions = await decisionsOf(db, ids);
  return (stored, shift) => ({
    ...listItemOf(stored, ends.get(stored.id), about.today),
    shift,
    decision:
      decisions
        .get(stored.id)
        ?.findLast((one) =>
          about.vesselId === undefined ? one.instrumentId === about.instrumentId : one.vesselId === about.vesselId,
        ) ?? null,
  });
};

const failed = ({ tag }: StoredVessel, { performedOn }: GoodCalibration) =>
  finding('vessel-failed', `${tag} did not keep its tolerance on ${performedOn}.`);

/**
 * Solutions made with a vessel since the last good calibration before its newest one, each as it would be with the
 * volume measured then. What was already computed with the newest calibration is left out.
 */
export const touchedByVessel = async (db: Reading, vessel: StoredVessel, today: string): Promise<TouchedList> => {
  const [newest, ...earlier] = await usableCalibrations(db, vessel.id);
  if (!newest) return { since: null, against: null, items: [], findings: [] };
  const since = earlier.find((one) => !isBad(one))?.performedOn ?? null;
  const found = await preparationsWithVessel(db, vessel.id, { since, notWith: newest.id });
  const shown = await showing(db, found, { vesselId: vessel.id, today });
  const change: Change = (used) => usedNow(used, vessel, newest);
  return {
    since,
    against: newest.performedOn,
    items: found.map((stored) => shown(stored, shiftOf(stored, valueOf(withVessels(stored.recipe, change))))),
    findings: newest.result.verdict === 'fail' ? [failed(vessel, newest)] : [],
  };
};

/** Does the concentration go with what this instrument weighed? Two weighings on one balance cancel. */
const goesWithWeighing = (recipe: Recipe): boolean => {
  if (recipe.way === 'solid') return recipe.solid.madeUp.by === 'volume';
  const before = recipe.way === 'dilution' ? recipe.dilution.stock : recipe.standardisation.standard;
  return before.known === 'preparation' ? goesWithWeighing(before.recipe) : before.known === 'solid';
};

/**
 * Solutions weighed on an instrument since the check before its newest one, each as it would be had the balance been
 * off by the same share when it was used.
 */
export const touchedByInstrument = async (
  db: Reading,
  instrument: StoredInstrument,
  today: string,
): Promise<TouchedList> => {
  const checks = await allChecksOf(db, instrument.id);
  const newest = checks.at(-1);
  const { tag, dueOn, certificateOn } = instrument.facts;
  const isOverdue = dueOn !== undefined && dueOn < today;
  const since = checks.at(-2)?.performedOn ?? certificateOn ?? null;
  const found = await preparationsWithInstrument(db, instrument.id, since);
  const shown = await showing(db, found, { instrumentId: instrument.id, today });
  const isWeight = instrument.facts.kind === 'balance' && newest && numberOf(newest.reading) > 0;
  const ratio = isWeight ? numberOf(newest.referenceValue) / numberOf(newest.reading) : null;
  return {
    since,
    against: newest?.performedOn ?? null,
    items: found.map((stored) => {
      const value = stored.result.value * (goesWithWeighing(stored.recipe) ? (ratio ?? 1) : 1);
      return shown(stored, ratio === null ? null : shiftOf(stored, value));
    }),
    findings: isOverdue ? [finding('instrument-overdue', `The certificate of ${tag} ran out on ${dueOn}.`)] : [],
  };
};
