/** What is weighed and at which temperature, from what was typed: bottles, balances, air. */
import type { StoredInstrument } from '../instruments/store.ts';
import { airDensityKgPerM3 } from '../metrology/air-density.ts';
import { assumedPressureHpa } from '../metrology/air.ts';
import { ASSUMED_AIR_TEMPERATURE, ASSUMED_HUMIDITY } from '../metrology/constants.ts';
import { correctionAt, correctionTable } from '../metrology/corrections.ts';
import { numberOf, numberOrNull } from '../metrology/decimal.ts';
import { instrumentNumbers } from '../metrology/instrument-numbers.ts';
import type { SolidDensity } from '../metrology/solutions/solid-buoyancy.ts';
import type { Solid } from '../metrology/solutions/solid.ts';
import type { LiquidTemperature, SolutionExpansion } from '../metrology/solutions/vessel-in-use.ts';
import type { Caution } from './contract-cautions.ts';
import type { AirBody, SolidBody, SubstanceBody } from './contract.ts';
import { readFormula } from './formula.ts';
import type { Gathering } from './gathering.ts';
import { knownSubstance } from './substances.ts';

/** Weighing as a request tells of it. */
export type Weighed = Pick<SolidBody, 'balanceId' | 'adjustedToday' | 'buoyancy' | 'air'>;

export const airKgPerM3 = (air: AirBody, altitudeM: string | null): number =>
  airDensityKgPerM3(
    numberOrNull(air.airTemperatureC) ?? ASSUMED_AIR_TEMPERATURE.value,
    numberOrNull(air.airPressureHpa) ?? assumedPressureHpa(numberOrNull(altitudeM)),
    numberOrNull(air.relativeHumidityPercent) ?? ASSUMED_HUMIDITY.value,
  );

/** Names a bottle of a lot for all solutions made from it; another bottle only within its own. */
const bottleKey = (substance: SubstanceBody): string => {
  const { lot, formula, purity, purityHalfWidth, waterMassFraction } = substance;
  return lot ? `bottle:${[formula, lot, purity, purityHalfWidth, waterMassFraction ?? ''].join('|')}` : 'solid';
};

export const solidOf = async (
  gathering: Gathering,
  substance: SubstanceBody,
  weighed: Weighed,
  at: { pointer: string; altitudeM: string | null },
): Promise<{ solid: Solid; cautions: readonly Caution[] }> => {
  const atoms = await gathering.formula(substance.formula, `${at.pointer}/formula`);
  const read = await readFormula(substance.formula);
  const known = 'refused' in read ? null : knownSubstance(read.formula);
  const counted = substance.counted && {
    atoms: await gathering.formula(substance.counted.formula, `${at.pointer}/counted/formula`),
    perFormula: substance.counted.perFormula,
  };
  const key = bottleKey(substance);
  const kgPerM3 = numberOrNull(substance.densityKgPerM3) ?? known?.densityKgPerM3 ?? null;
  let density: SolidDensity = { known: 'off' };
  if (weighed.buoyancy === 'on')
    density =
      kgPerM3 === null
        ? { known: 'range', key }
        : { known: 'density', key, kgPerM3, airKgPerM3: airKgPerM3(weighed.air, at.altitudeM) };
  if (density.known === 'range')
    gathering.say(
      'solid-density-not-known',
      `The density of ${substance.name} is not known: its buoyancy was taken between 0 and 600 ppm.`,
    );
  const purity = {
    massFraction: numberOf(substance.purity),
    halfWidth: numberOf(substance.purityHalfWidth),
    certified: substance.purityCertified,
    waterMassFraction: numberOrNull(substance.waterMassFraction) ?? 0,
    waterHalfWidth: numberOrNull(substance.waterHalfWidth) ?? 0,
  };
  const { primaryStandard } = substance;
  return {
    solid: { key, atoms, counted: counted ?? null, purity, primaryStandard, density },
    cautions: known?.cautions ?? [],
  };
};

/** What a weighing is computed with, whatever it showed. */
export const balanceOf = (stored: StoredInstrument | null, adjustedToday: boolean) => ({
  balance: instrumentNumbers({ balance: stored ? stored.facts : null }).balance,
  balanceKey: stored ? `balance:${stored.id}` : 'no-balance',
  balanceTag: stored?.facts.tag ?? 'the balance',
  adjustedToday,
  statedUncertaintyG: null,
});

/**
 * What the certificate of a balance adds to what it showed when it was tared, g: as for water, its correction there less
 * that at zero.
 */
export const correctionOf = (gathering: Gathering, stored: StoredInstrument | null, readingG: number): number => {
  const table = correctionTable(stored?.facts.kind === 'balance' ? stored.facts.corrections : null);
  const correction = correctionAt(table, readingG);
  if (correction.extrapolated)
    gathering.say(
      'correction-extrapolated',
      `${Number(readingG.toPrecision(6))} g lies outside the table of corrections of ${stored?.facts.tag ?? ''}.`,
    );
  return correction.value - correctionAt(table, 0).value;
};

/** Last digit of a usual analytical balance, where neither a reading nor a balance shows one. */
export const USUAL_STEP_G = 0.0001;

export const temperatureOf = (body: { temperatureC: string; temperatureHalfWidthC: string }): LiquidTemperature => ({
  key: 'solution:temperature',
  valueC: numberOf(body.temperatureC),
  halfWidthC: numberOf(body.temperatureHalfWidthC),
});

export const expansionOf = (perK: string | undefined): SolutionExpansion =>
  perK === undefined ? { by: 'water' } : { by: 'coefficient', perK: numberOf(perK) };

export const findBalance = async (gathering: Gathering, { balanceId }: Weighed): Promise<StoredInstrument | null> => {
  if (balanceId !== undefined) return gathering.balance(balanceId);
  gathering.say('balance-not-named', 'No balance was named: the digits of the reading tell how well it weighs.');
  return null;
};
