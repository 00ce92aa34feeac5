/** A solution from a solid: its recipe, and what to weigh for the concentration wanted. */
import { numberOf, stepOf } from '../metrology/decimal.ts';
import { isByVolume, massForConcentration, solidModel, type MadeUp } from '../metrology/solutions/solid.ts';
import type { SolidDensity } from '../metrology/solutions/solid-buoyancy.ts';
import { isApproximate } from '../metrology/solutions/substance.ts';
import { minimumLoadG, type WeighedPortion } from '../metrology/solutions/weighing.ts';
import type { SolidBody } from './contract.ts';
import type { Gathering } from './gathering.ts';
import type { Resolved } from './resolved.ts';
import {
  airKgPerM3,
  balanceOf,
  correctionOf,
  expansionOf,
  findBalance,
  solidOf,
  temperatureOf,
  USUAL_STEP_G,
} from './weighed.ts';

const madeUpOf = async (
  gathering: Gathering,
  { madeUp, target }: SolidBody,
  weighing: Omit<WeighedPortion, 'key' | 'readingG' | 'stepG'>,
  whole: { density: SolidDensity; correctionAt: (readingG: number) => number },
): Promise<MadeUp | null> => {
  if (isByVolume(target.unit) !== (madeUp.by === 'volume'))
    return gathering.refuse(
      '#/target/unit',
      madeUp.by === 'volume'
        ? `A solution made up to a mark is in mol/L, g/L or mg/L; ${target.unit} is made up by weighing.`
        : `A solution made up by weighing is in g/g or mg/kg; ${target.unit} is made up to a mark.`,
    );
  if (madeUp.by === 'mass') {
    const readingG = numberOf(madeUp.solutionG);
    const correctionG = whole.correctionAt(readingG);
    return {
      by: 'mass',
      portion: { ...weighing, key: 'whole', readingG, correctionG, stepG: stepOf(madeUp.solutionG) },
      density: whole.density,
    };
  }
  const { vesselId, pointMl } = madeUp;
  const vessel = await gathering.vesselAt({ vesselId, pointMl }, 'contain', '#/madeUp');
  if (!vessel) return null;
  const temperature = temperatureOf(madeUp);
  const expansion = expansionOf(madeUp.expansionPerK);
  return { by: 'volume', vessel, temperature, expansion, quotedC: numberOf(madeUp.quotedAtC) };
};

/** A correction changes slowly: what the balance is to show is found in a few rounds. */
const ROUNDS = 4;
const readingFor = (correctedG: number, correctionAt: (readingG: number) => number): number => {
  let readingG = correctedG;
  for (let round = 0; round < ROUNDS; round += 1) readingG = correctedG - correctionAt(readingG);
  return readingG;
};

const wholeDensity = ({ buoyancy, air }: SolidBody, altitudeM: string | null): SolidDensity =>
  buoyancy === 'on' ? { known: 'solution', airKgPerM3: airKgPerM3(air, altitudeM) } : { known: 'off' };

export const resolveSolid = async (
  gathering: Gathering,
  body: SolidBody,
  altitudeM: string | null,
): Promise<Resolved> => {
  const { solid, cautions } = await solidOf(gathering, body.substance, body, { pointer: '#/substance', altitudeM });
  const balance = await findBalance(gathering, body);
  const weighing = balanceOf(balance, body.adjustedToday);
  const correctionAt = (readingG: number): number => correctionOf(gathering, balance, readingG);
  const madeUp = await madeUpOf(gathering, body, weighing, { density: wholeDensity(body, altitudeM), correctionAt });
  gathering.settle();
  if (!madeUp) throw new Error('what cannot be made up was refused');
  const { unit } = body.target;
  const typedMass = body.weighing?.massG;
  const stepG = typedMass === undefined ? (weighing.balance.resolutionG ?? USUAL_STEP_G) : stepOf(typedMass);
  const madeFrom = (readingG: number, correctionG: number) => {
    const portion: WeighedPortion = { ...weighing, key: 'portion', readingG, correctionG, stepG };
    return { solid, portion, madeUp, unit };
  };
  // The concentration goes with the corrected reading: that of one gram tells how many are wanted.
  const oneGram = solidModel(madeFrom(1, 0));
  const correctedG = numberOf(body.target.value) / oneGram.output(oneGram.influences.map(({ value }) => value));
  const { massG, readingG: shown } = massForConcentration(solid, 1, unit, 1);
  const leastG = minimumLoadG(weighing.balance);
  const readingG = readingFor(correctedG, correctionAt);
  const usedG = typedMass === undefined ? readingG : numberOf(typedMass);
  tellOfLoad(gathering, usedG, leastG, weighing);
  if (typedMass !== undefined) tellOfDistance(gathering, usedG, readingG);
  return {
    recipe: { way: 'solid', solid: madeFrom(usedG, correctionAt(usedG)) },
    planned: typedMass === undefined,
    approximate: isApproximate(solid.primaryStandard, solid.purity),
    cautions,
    toWeigh: {
      massG: (correctedG * massG) / shown,
      readingG,
      minimumLoadG: leastG,
      aboveMinimum: leastG === null ? null : usedG >= leastG,
    },
    typed: {
      mass: typedMass,
      purity: body.substance.purity,
      water: body.substance.waterMassFraction,
      ...(body.madeUp.by === 'volume'
        ? { temperature: body.madeUp.temperatureC, quoted: body.madeUp.quotedAtC, expansion: body.madeUp.expansionPerK }
        : { solution: body.madeUp.solutionG }),
    },
  };
};

/** Weighed beside the wanted mass is how one works; this far from it, a digit or a unit has slipped. */
const FAR_FROM_WANTED = 2;

const tellOfDistance = (gathering: Gathering, usedG: number, wantedG: number): void => {
  const times = usedG / wantedG;
  if (times <= FAR_FROM_WANTED && times >= 1 / FAR_FROM_WANTED) return;
  const [used, wanted] = [usedG, wantedG].map((massG) => Number(massG.toPrecision(5)));
  gathering.say(
    'weighed-far-from-wanted',
    `${used} g was weighed, ${Number(times.toPrecision(2))} times the ${wanted} g that the concentration wanted asks for. Is it typed right?`,
  );
};

const tellOfLoad = (
  gathering: Gathering,
  usedG: number,
  leastG: number | null,
  { balanceTag }: Pick<WeighedPortion, 'balanceTag'>,
): void => {
  if (leastG === null || usedG >= leastG) return;
  const least = Number(leastG.toPrecision(2));
  gathering.say('below-minimum-load', `${balanceTag} weighs to 0.10 % from ${least} g on; make a stock and dilute it.`);
};
