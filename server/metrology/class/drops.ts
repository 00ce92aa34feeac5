import { oneWay } from './one-way.ts';

/** Drops counted from a burette and the volume they gave. */
export interface DropCount {
  drops: number;
  volumeMl: number;
}

export interface DropFigures {
  /** Counts of all groups. */
  n: number;
  /** Mean of the volumes per drop. */
  dropMl: number;
  /** Spread of the volumes per drop within a group, null where no group counted twice. */
  repeatabilitySdMl: number | null;
  /** Spread of any count by any group; null with one group. */
  withinRoomSdMl: number | null;
  meanUncertaintyMl: number | null;
  /** Drops in one millilitre. */
  dropsPerMl: number;
}

/**
 * Volume of one drop, each count giving one value, volume ÷ drops, as the trials of a class.
 * @param groups counts of each group
 * @returns null without any count
 * @throws RangeError when a count is no whole number from 1 on or a volume is not above 0
 * @source iso-5725-2-2019, basic model with one factor; volume ÷ drops is the definition of the mean drop
 */
export function dropFigures(groups: readonly (readonly DropCount[])[]): DropFigures | null {
  const perDrop = groups.map((group) =>
    group.map(({ drops, volumeMl }) => {
      if (!Number.isInteger(drops) || drops < 1 || !(volumeMl > 0)) {
        throw new RangeError('a count needs whole drops from 1 on and a volume above 0');
      }
      return volumeMl / drops;
    }),
  );
  if (perDrop.every((group) => group.length === 0)) return null;
  const { n, meanMl, repeatabilitySdMl, withinRoomSdMl, meanUncertaintyMl } = oneWay(perDrop);
  return { n, dropMl: meanMl, repeatabilitySdMl, withinRoomSdMl, meanUncertaintyMl, dropsPerMl: 1 / meanMl };
}
