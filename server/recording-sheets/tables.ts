/** The tables of blank sheets: a row for each trial of a vessel, or vessels down and trials across. */
import { grid, type GridColumn, type GridRow, type RowMark } from '../certificates/pdf/by-hand.ts';
import type { Paper } from '../certificates/pdf/paper.ts';
import type { Fact } from '../certificates/statements.ts';
import type { Basis } from '../metrology/record.ts';
import { HEADS, READINGS, type CautionName } from './words.ts';

export interface SheetVessel {
  tag: string;
  /** Kind and volume in words. */
  what: string;
  facts: readonly Fact[];
  /** Test points, mL. */
  points: readonly string[];
  basis: Basis;
  isPiston: boolean;
  cautions: readonly CautionName[];
}

/** A hand writes between these, in points. */
const LEAST_ROW = 17;
const MOST_ROW = 24;
/** Head of the table, and the line for a note below it. */
const BESIDE_ROWS = 52;
/** A code of this size is read by a camera from a sheet on the bench. */
const CODE = 24;
/** More trials do not fit side by side. */
const MOST_ACROSS = 3;

/** Delivery and waiting are timed for glass that delivers. */
const isTimed = ({ basis, isPiston }: SheetVessel): boolean => basis === 'deliver' && !isPiston;

const readingsOf = (vessels: readonly SheetVessel[]): { first: string; second: string } => {
  const bases = new Set(vessels.map(({ basis }) => basis));
  return READINGS[bases.size > 1 ? 'both' : bases.has('deliver') ? 'deliver' : 'contain'];
};

/** What is written for each trial. */
const trialColumns = (vessels: readonly SheetVessel[]): GridColumn[] => {
  const { first, second } = readingsOf(vessels);
  return [
    { head: first, share: 11 },
    { head: second, share: 11 },
    { head: HEADS.water, share: 7 },
    ...(vessels.some(isTimed)
      ? [
          { head: HEADS.delivery, share: 7 },
          { head: HEADS.waiting, share: 7 },
        ]
      : []),
  ];
};

const counted = (count: number): string[] => Array.from({ length: count }, (_, at) => String(at + 1));

/** Point and number of each trial, in the order in which they are weighed. */
const placesOf = ({ points }: SheetVessel, trials: number): [point: string, trial: string][] =>
  points.flatMap((point) => counted(trials).map((trial): [string, string] => [point, trial]));

export function trialTable(paper: Paper, vessel: SheetVessel, trials: number): void {
  const columns = [
    { head: HEADS.point, share: 6 },
    { head: HEADS.trial, share: 4 },
    ...trialColumns([vessel]),
    { head: HEADS.note, share: 16 },
  ];
  const rows = placesOf(vessel, trials);
  const height = (paper.room - BESIDE_ROWS) / rows.length;
  grid(paper, columns, rows, Math.min(MOST_ROW, Math.max(LEAST_ROW, height)));
}

export interface CompactVessel {
  vessel: SheetVessel;
  markOf: (side: number) => RowMark;
}

interface CompactPlan {
  trials: number;
  /** All vessels are alike; what they are stands above the table. */
  isSame: boolean;
}

const nameOf = ({ tag, what }: SheetVessel, isSame: boolean): string => (isSame ? tag : `${tag}\n${what}`);

/** Vessels down and trials across where that leaves room to write, else a row for each trial. */
export function compactTable(paper: Paper, rows: readonly CompactVessel[], plan: CompactPlan): void {
  const vessels = rows.map(({ vessel }) => vessel);
  const isAcross =
    plan.trials <= MOST_ACROSS && vessels.every((vessel) => vessel.points.length === 1 && !isTimed(vessel));
  if (isAcross) acrossTable(paper, rows, plan);
  else downTable(paper, rows, plan);
}

function acrossTable(paper: Paper, rows: readonly CompactVessel[], { trials, isSame }: CompactPlan): void {
  const own = trialColumns(rows.map(({ vessel }) => vessel));
  const columns = [
    { head: HEADS.vessel, share: 19 },
    { head: HEADS.fit, share: 6 },
    ...counted(trials).flatMap((trial) =>
      own.map(({ head, share }) => ({ head: `${HEADS.trial} ${trial} ${head}`, share })),
    ),
    ...(trials < MOST_ACROSS ? [{ head: HEADS.note, share: 12 }] : []),
  ];
  const lines = rows.map(({ vessel, markOf }): GridRow => ({ cells: [nameOf(vessel, isSame)], mark: markOf(CODE) }));
  grid(paper, columns, lines, CODE + 2);
}

function downTable(paper: Paper, rows: readonly CompactVessel[], { trials, isSame }: CompactPlan): void {
  const vessels = rows.map(({ vessel }) => vessel);
  const hasPoints = vessels.some(({ points }) => points.length > 1);
  const columns = [
    { head: HEADS.vessel, share: 18 },
    ...(hasPoints ? [{ head: HEADS.point, share: 6 }] : []),
    { head: HEADS.trial, share: 4 },
    { head: HEADS.fit, share: 6 },
    ...trialColumns(vessels),
    { head: HEADS.note, share: 11 },
  ];
  const lines = rows.flatMap(({ vessel, markOf }) =>
    placesOf(vessel, trials).map(([point, trial], at): GridRow => {
      const places = hasPoints ? [point, trial] : [trial];
      // The tag stands in each row, since a vessel may go on over the page.
      return at === 0
        ? { cells: [nameOf(vessel, isSame), ...places], mark: markOf(CODE) }
        : [vessel.tag, ...places, '–'];
    }),
  );
  grid(paper, columns, lines, LEAST_ROW + 3);
}
