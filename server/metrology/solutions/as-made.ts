/** What was done for a kept solution, in its order: from what was typed, and the vessels whose volumes counted. */
import { fixed } from '../display.ts';

interface NamedVessel {
  vesselId: string;
  pointMl?: string | undefined;
}

interface UsedVessel {
  vesselId: string;
  nominalMl: number;
  use: string;
}

/** The use a typed vessel came to; without a mark typed it was filled to its largest. */
function usedAs<V extends UsedVessel>(
  { vesselId, pointMl }: NamedVessel,
  use: string,
  vessels: readonly V[],
): V | null {
  const [largest = null, ...smaller] = vessels
    .filter((one) => one.vesselId === vesselId && one.use === use)
    .sort((one, other) => other.nominalMl - one.nominalMl);
  if (pointMl === undefined || largest === null) return largest;
  return [largest, ...smaller].find(({ nominalMl }) => nominalMl === Number(pointMl)) ?? largest;
}

interface DilutionSteps {
  steps: readonly { deliveries: readonly NamedVessel[]; madeUpIn: NamedVessel }[];
}

/** Each step of a dilution with what was delivered and what it was made up in; vessels that are not listed are left out. */
export const stepsAsMade = <V extends UsedVessel>({ steps }: DilutionSteps, vessels: readonly V[]) =>
  steps.map(({ deliveries, madeUpIn }) => ({
    deliveries: deliveries.flatMap((one) => usedAs(one, 'delivered', vessels) ?? []),
    madeUpIn: usedAs(madeUpIn, 'made-up', vessels),
  }));

const decimalsOf = (typed: string): number => typed.split('.')[1]?.length ?? 0;

interface Titrations {
  titrations: readonly {
    massG?: string | undefined;
    pipette?: NamedVessel | undefined;
    buretteFromMl: string;
    buretteToMl: string;
  }[];
}

/** Each titration with its readings, what the burette gave by its scale, and its result. */
export const titrationsAsMade = <V extends UsedVessel>(
  { titrations }: Titrations,
  { vessels, singles }: { vessels: readonly V[]; singles: readonly number[] | null },
) =>
  titrations.map(({ massG, pipette, buretteFromMl, buretteToMl }, index) => ({
    massG: massG ?? null,
    pipette: pipette === undefined ? null : usedAs(pipette, 'delivered', vessels),
    buretteFromMl,
    buretteToMl,
    usedMl: fixed(
      Number(buretteToMl) - Number(buretteFromMl),
      Math.max(decimalsOf(buretteFromMl), decimalsOf(buretteToMl)),
    ),
    single: singles?.[index] ?? null,
  }));

/** A mass fraction in per cent, with the digits it was typed with: `0.9995` as `99.95`. */
export const percentWords = (fraction: string): string =>
  fixed(100 * Number(fraction), Math.max(0, decimalsOf(fraction) - 2));
