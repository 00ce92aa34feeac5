/** A board as rows of the picture: one for each ware, or one for each group at one ware. Pure. */
import type { Basis } from '../../../server/metrology/record.ts';
import { type Summary, summarise } from '../../../server/metrology/statistics.ts';
import type { Board } from '../../../server/experiments/contract-class.ts';
import { boardText } from '../../messages/en-board.ts';
import type { BoardRow, BoardScale } from '../../plots/board.ts';

/** How somebody looks at the board; each browser its own way. */
export interface BoardLook {
  volume: 'corrected' | 'simple';
  scale: BoardScale;
  rowsAre: 'ware' | 'groups';
  /** Ware whose groups are shown. */
  ware: string;
  showsPredictions: boolean;
  showsNames: boolean;
}

type Ware = Board['rows'][number];
type Trial = Board['trials'][number];

export interface ShownRow extends BoardRow {
  label: string;
  ware: Ware;
  basis: Basis;
  /** Of the counted trials; null before the first. */
  summary: Summary | null;
  groups: number;
  /** Counted trials within the tolerance; null without one. */
  within: number | null;
}

/** The ware whose groups are shown; the first while none is chosen. */
export const wareOf = (board: Board, look: BoardLook): Ware | undefined =>
  board.rows.find(({ key }) => key === look.ware) ?? board.rows[0];

export const nameOf = (board: Board, look: BoardLook, number: number): string => {
  const name = board.groups.find((group) => group.number === number)?.name ?? null;
  return boardText.group(number, look.showsNames ? name : null);
};

export function shownRows(board: Board, look: BoardLook): ShownRow[] {
  if (look.rowsAre === 'ware') return board.rows.map((ware) => rowOf(board, look, { ware, group: null }));
  const ware = wareOf(board, look);
  return ware ? board.groups.map(({ number }) => rowOf(board, look, { ware, group: number })) : [];
}

function rowOf(board: Board, look: BoardLook, of: { ware: Ware; group: number | null }): ShownRow {
  const { ware, group } = of;
  const isMine = (one: { row: string; group: number }) =>
    one.row === ware.key && (group === null || one.group === group);
  const volumeOf = ({ simpleVolumeMl, volumeMl }: Trial) => (look.volume === 'simple' ? simpleVolumeMl : volumeMl);
  const mine = board.trials.filter(isMine);
  const counted = mine.filter(({ excluded }) => !excluded);
  const volumes = counted.map(volumeOf);
  const nominalMl = Number(ware.nominalVolumeMl);
  const limitMl = ware.toleranceMl;
  return {
    key: group === null ? ware.key : `group-${group}`,
    label: group === null ? ware.label : nameOf(board, look, group),
    ...{ ware, nominalMl, basis: ware.basis, toleranceMl: limitMl },
    trials: mine.map((trial) => ({ group: trial.group, volumeMl: volumeOf(trial), excluded: trial.excluded })),
    predictions: predictionsOf(board, look).filter(isMine),
    // Both volumes have room, so that the axis stays where it is when one takes the place of the other.
    roomForMl: mine.flatMap(({ simpleVolumeMl, volumeMl }) => [simpleVolumeMl, volumeMl]),
    summary: volumes.length === 0 ? null : summarise(volumes),
    groups: new Set(counted.map((trial) => trial.group)).size,
    within: limitMl === null ? null : volumes.filter((volume) => Math.abs(volume - nominalMl) <= limitMl).length,
  };
}

const predictionsOf = ({ predictions }: Board, { showsPredictions }: BoardLook) =>
  showsPredictions ? (predictions ?? []).map(({ volumeMl, ...one }) => ({ ...one, volumeMl: Number(volumeMl) })) : [];
