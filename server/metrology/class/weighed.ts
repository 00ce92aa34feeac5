import { decimalsOf, numberOf, numberOrNull } from '../decimal.ts';
import type { Basis, DecimalText, ToleranceFacts, VesselKind } from '../record.ts';
import type { ToleranceRow } from '../tolerance.ts';
import type { CrossedCell } from './crossed.ts';
import type { ClassLimit, ClassRow } from './data.ts';
import { limitsOf } from './limits.ts';

/** `corrected`: in full, at the reference temperature; `simple`: a gram taken for a millilitre. */
export type VolumeChoice = 'corrected' | 'simple';

export interface WeighedRow {
  key: string;
  label: string;
  kind: VesselKind;
  nominalVolumeMl: DecimalText;
  basis: Basis;
  divisionMl?: DecimalText | undefined;
  tolerance?: ToleranceFacts | undefined;
  /** Limit of the vessel, mL, and where it is from; null for none. */
  toleranceMl: number | null;
  toleranceSource: string | null;
  /** Vessels of the register that the row names. */
  vessels: readonly { id: string; tag: string }[];
}

export interface WeighedTrial {
  row: string;
  /** Number of the group. */
  group: number;
  /** Among the trials of its group in its row, those left out among them. */
  number: number;
  /** Null where the trial does not say. */
  vesselId: string | null;
  filledG: DecimalText;
  simpleVolumeMl: number;
  volumeMl: number;
  /** Null for a trial that counts. */
  excluded: object | null;
}

/** What a class weighed, in the order in which it was weighed. */
export interface Weighed {
  rows: readonly WeighedRow[];
  groups: readonly { number: number }[];
  trials: readonly WeighedTrial[];
}

/** The volume of a trial that is asked for, mL. */
export const chosenVolumeMl = (
  trial: Pick<WeighedTrial, 'simpleVolumeMl' | 'volumeMl'>,
  choice: VolumeChoice,
): number => (choice === 'simple' ? trial.simpleVolumeMl : trial.volumeMl);

/**
 * The cells of a crossed design: every row is a vessel, and where a row names several of the register, each of those is
 * one, told by its tag. A trial that does not say which one belongs to none of them, and stands by itself.
 * @returns hands are `Group 1` …, vessels the names of rows, with the tag where a row names several
 * @source searle-1992, 4, cells of a two-way design
 */
export function crossedCells(weighed: Weighed, choice: VolumeChoice): CrossedCell[] {
  const cells = new Map<string, CrossedCell & { trialsMl: number[] }>();
  const names = weighed.rows.map(({ label }) => label);
  for (const { key, label, vessels } of weighed.rows) {
    const name = names.indexOf(label) === names.lastIndexOf(label) ? label : `${label} (${key})`;
    for (const trial of weighed.trials) {
      if (trial.row !== key || trial.excluded !== null) continue;
      const tag = vessels.length > 1 ? vessels.find(({ id }) => id === trial.vesselId)?.tag : undefined;
      const vessel = tag === undefined ? name : `${name} ${tag}`;
      const hand = `Group ${trial.group}`;
      const cell = cells.get(`${hand}/${vessel}`) ?? { hand, vessel, trialsMl: [] };
      cell.trialsMl.push(chosenVolumeMl(trial, choice));
      cells.set(`${hand}/${vessel}`, cell);
    }
  }
  return [...cells.values()];
}

function limitsFor(row: WeighedRow, table: readonly ToleranceRow[]): ClassLimit[] {
  const { kind, basis, divisionMl, tolerance = null, toleranceMl, toleranceSource } = row;
  const nominalMl = numberOf(row.nominalVolumeMl);
  const known = limitsOf(table, { kind, nominalMl, basis, divisionMl: numberOrNull(divisionMl), tolerance });
  if (known.length > 0 || toleranceMl === null) return known;
  return [{ name: 'stated', source: toleranceSource ?? 'stated for this ware', toleranceMl }];
}

/** Last digit that most readings show, as volume, mL; of equals the coarser one, 0 without readings. */
function lastDigitMl(trials: readonly WeighedTrial[]): number {
  const counts = new Map<number, number>();
  for (const { filledG } of trials) {
    const decimals = decimalsOf(filledG);
    counts.set(decimals, (counts.get(decimals) ?? 0) + 1);
  }
  const [most] = [...counts].sort(([one, often], [other, oftener]) => oftener - often || one - other);
  return most === undefined ? 0 : 10 ** -most[0];
}

/**
 * What a class weighed, as rows to work out figures from: excluded trials are left out, groups without trials too, and
 * groups go by their numbers.
 * @param table rows of the standards, for the limits of each ware
 * @throws TypeError when a nominal volume or a reading is no decimal number
 * @source iso-4787-2021, the last digit of a weighing taken as volume, 1 g as 1 mL
 */
export function weighedRows(weighed: Weighed, choice: VolumeChoice, table: readonly ToleranceRow[]): ClassRow[] {
  const numbers = weighed.groups.map(({ number }) => number).sort((one, other) => one - other);
  return weighed.rows.map((row): ClassRow => {
    const counted = weighed.trials.filter((trial) => trial.row === row.key && trial.excluded === null);
    const groups = numbers.map((number) => {
      const own = counted.filter(({ group }) => group === number);
      return {
        key: String(number),
        trialsMl: own.map((trial) => chosenVolumeMl(trial, choice)),
        numbers: own.map((trial) => trial.number),
      };
    });
    return {
      key: row.key,
      kind: row.kind,
      nominalMl: numberOf(row.nominalVolumeMl),
      basis: row.basis,
      toleranceMl: null,
      limits: limitsFor(row, table),
      lastDigitMl: lastDigitMl(counted),
      groups: groups.filter(({ trialsMl }) => trialsMl.length > 0),
    };
  });
}
