/** Numbers of the board in words: never more digits than the spread carries, a spread only from two trials on. */
import { boardText as words } from '../../messages/en-board.ts';
import { decimalsForTolerance, decimalsForUncertainty, fixed, signed, significant } from '../../parts/rounding.ts';
import { type BoardAxis, type BoardScale, distanceFrom } from '../../plots/board.ts';
import type { ShownRow } from './board-rows.ts';

/** Decimals of volumes of a row, in mL: two digits of the spread, or those of the tolerance while there is none. */
export const decimalsOfRow = ({ summary, toleranceMl, nominalMl }: ShownRow): number =>
  summary?.sd ? decimalsForUncertainty(summary.sd) : decimalsForTolerance(toleranceMl ?? nominalMl / 1000);

const inScale = (valueMl: number, row: ShownRow, scale: BoardScale): number =>
  scale === 'relative' ? (100 * valueMl) / row.nominalMl : valueMl;

interface Figures {
  n: string;
  bias: string;
  spread: string;
}

/** The three numbers of a row, with their units. */
export function figuresOf(row: ShownRow, scale: BoardScale): Figures {
  const { summary, nominalMl } = row;
  if (summary === null) return { n: '0', bias: words.nothing, spread: words.nothing };
  const bias = inScale(summary.mean - nominalMl, row, scale);
  const spread = summary.sd === null ? null : inScale(summary.sd, row, scale);
  const decimals =
    spread !== null && spread > 0
      ? decimalsForUncertainty(spread)
      : decimalsForTolerance(inScale(row.toleranceMl ?? nominalMl / 1000, row, scale));
  const withUnit = (value: string) => (scale === 'relative' ? words.percent(value) : words.volumeAt(value));
  return {
    n: String(summary.n),
    bias: withUnit(signed(bias, decimals)),
    spread: spread === null ? words.needsTwo : withUnit(fixed(spread, decimals)),
  };
}

/** The picture of a row in one sentence. */
export function rowSentence(row: ShownRow, scale: BoardScale): string {
  const { summary, within, groups } = row;
  if (summary === null) return words.sentence(row.label, words.sentenceNone);
  const { bias, spread } = figuresOf(row, scale);
  const parts = words.sentenceParts(summary.n, groups, bias, spread);
  return words.sentence(row.label, within === null ? parts : `${parts}, ${words.sentenceWithin(within, summary.n)}`);
}

/** A tick of the axis: a volume where all rows share a nominal one, else the distance from it. One names the unit. */
export function tickWords({ scale, sharedNominalMl, ticks }: BoardAxis, value: number): string {
  if (scale === 'relative') return value === 0 ? words.percent('0') : signedSignificant(value);
  const smallest = ticks.find((tick) => tick > 0) ?? 1;
  const decimals = Math.max(0, -Math.floor(Math.log10(smallest) + 1e-9));
  const shown = sharedNominalMl === null ? signed(value, decimals) : fixed(sharedNominalMl + value, decimals);
  return value === 0 ? words.volumeAt(shown) : shown;
}

const signedSignificant = (value: number): string => `${value > 0 ? '+' : ''}${significant(value, 1)}`;

/** What lies beyond the axis, as it stands at its end. */
export function edgeWords(row: ShownRow, { scale, sharedNominalMl }: BoardAxis, volumeMl: number): string {
  const distance = distanceFrom(row.nominalMl, volumeMl, scale);
  if (sharedNominalMl === null) return `${distance > 0 ? '+' : ''}${significant(distance, 2)}`;
  return fixed(volumeMl, Math.min(2, decimalsOfRow(row)));
}
