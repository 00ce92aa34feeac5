/** A square code that holds a tag alone, as the outline of its dark parts. */
import type { LabelCode } from './contract.ts';

export interface Square {
  /** Length of a side, the empty border that readers need among it. */
  side: number;
  border: number;
  /** SVG path from the upper left corner inside the border; filled by the even-odd rule. */
  path: string;
}

/** Units of a path in one square of the code. */
const UNITS = 2;
const CODES = { qr: 'qrcode', 'data-matrix': 'datamatrix' } as const satisfies Record<LabelCode, string>;
/** Empty squares round the code: 4 by ISO/IEC 18004, 1 by ISO/IEC 16022. */
const BORDERS: Record<LabelCode, number> = { qr: 4, 'data-matrix': 1 };

/** Signs beyond ASCII are announced as UTF-8 (extended channel 26), so that no reader has to guess. */
const announced = (text: string): { text: string; parsefnc?: true } =>
  /^[\x20-\x7e]*$/.test(text) ? { text } : { text: `^ECI000026${text.replaceAll('^', '^^')}`, parsefnc: true };

/**
 * QR by ISO/IEC 18004, correction level M; Data Matrix by ISO/IEC 16022.
 * @param text at most 40 signs
 */
export const squareOf = async (text: string, code: LabelCode): Promise<Square> => {
  const { toSVG } = await import('bwip-js/node');
  const svg = toSVG({ bcid: CODES[code], ...announced(text), scale: UNITS / 2 });
  const [, side] = /viewBox="0 0 (\d+) /.exec(svg) ?? [];
  const [, path] = / d="([^"]+)"/.exec(svg) ?? [];
  if (side === undefined || path === undefined) throw new Error(`No code was made for ${text}.`);
  const border = BORDERS[code] * UNITS;
  return { side: Number(side) + 2 * border, border, path };
};

/** With its empty border inside the place, which is as wide as it is high. */
export const drawSquare = (
  canvas: PDFKit.PDFDocument,
  { side, border, path }: Square,
  at: { x: number; y: number; side: number },
): void => {
  canvas
    .save()
    .translate(at.x, at.y)
    .scale(at.side / side)
    .translate(border, border);
  canvas.path(path).fill('#000000', 'even-odd').restore();
};
