/** Colours, type and measures of the papers: the light tokens of the screens, darkened to nothing new. Lengths in points. */

export const INK = {
  ink: '#14242b',
  quiet: '#51646c',
  line: '#7d909a',
  hair: '#cfd8db',
  water: '#0a6a75',
  band: '#d5ebe6',
  guard: '#b9dcd4',
  card: '#ffffff',
  shade: '#f1f5f4',
  pass: '#0b5cad',
  conditional: '#6b5f00',
  fail: '#9c3400',
  undecided: '#5b4b8a',
} as const;

export interface Style {
  font: 'regular' | 'strong';
  size: number;
  colour: string;
  /** Height of a line. */
  leading: number;
}

const style = (size: number, leading: number, font: Style['font'] = 'regular', colour: string = INK.ink): Style => ({
  font,
  size,
  colour,
  leading,
});

export const STYLES = {
  title: style(21, 27, 'strong'),
  lead: style(12, 16, 'strong'),
  heading: style(10.5, 14, 'strong', INK.water),
  body: style(8.5, 12),
  strong: style(8.5, 12, 'strong'),
  quiet: style(8.5, 12, 'regular', INK.quiet),
  small: style(7.2, 9.6),
  smallStrong: style(7.2, 9.6, 'strong'),
  smallQuiet: style(7.2, 9.6, 'regular', INK.quiet),
  head: style(7, 9.2, 'strong', INK.quiet),
} as const;

/** ISO 216 A4; North American Letter, 8.5 in × 11 in (ANSI/ASME Y14.1). */
export const SHEETS = { a4: { width: 595.28, height: 841.89 }, letter: { width: 612, height: 792 } } as const;
export type SheetSize = keyof typeof SHEETS;

/** A4 and its margins; the same measure stands on Letter, which is wider. */
export const PAGE = { width: 595.28, height: 841.89, left: 51, right: 51, top: 62, bottom: 56 } as const;
export const MEASURE = PAGE.width - PAGE.left - PAGE.right;
