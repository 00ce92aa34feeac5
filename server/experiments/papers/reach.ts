/** How far a single filling by anybody may lie from the nominal volume. */
import { choose } from '../../metrology/class/choose.ts';
import type { RowFigures } from '../../metrology/class/figures.ts';

/** |bias| + 2·s_R, mL, by the same rule as ware is chosen; null where either is not known. */
export const reach = (figures: RowFigures): number | null => {
  const job = { need: 'hold', volumeMl: figures.nominalMl, volume: 'any', accuracy: null } as const;
  return choose([figures], job).ranked[0]?.reachMl ?? null;
};
