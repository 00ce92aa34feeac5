/** Rounding for display, by the rules the printed result follows. Nothing is rounded before this. */
import { decimalsFor } from '../../server/metrology/display.ts';

// On paper and on screen alike.
export {
  decimalsForTolerance,
  fixed,
  scientific,
  signed,
  significant,
  withTrueMinus,
} from '../../server/metrology/display.ts';

const FIGURE_SPACE = '\u2007';
const PUNCTUATION_SPACE = '\u2008';

/**
 * Decimals that leave an uncertainty at most two significant digits (JCGM 100:2008, 7.2.6). Looks at the digits after
 * rounding, so that 0.0996 becomes 0.10 and not 0.100. Whole numbers stay whole.
 */
export const decimalsForUncertainty = (uncertainty: number): number => {
  if (!(uncertainty > 0) || !Number.isFinite(uncertainty)) return 4;
  return Math.max(0, Math.min(8, decimalsFor(uncertainty, 2)));
};

/** Digits after the decimal mark of a reading as typed. */
export const decimalsOf = (reading: string): number => {
  const mark = reading.indexOf('.');
  return mark === -1 ? 0 : reading.length - mark - 1;
};

/** Spaces as wide as digits to stand behind a number, so that a column stands on its decimal mark. */
export const decimalPadding = (shown: string, most: number): string => {
  const decimals = decimalsOf(shown);
  const mark = decimals === 0 && most > 0 ? PUNCTUATION_SPACE : '';
  return mark + FIGURE_SPACE.repeat(Math.max(0, most - decimals));
};
