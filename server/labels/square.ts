/** The dark squares of a code that holds a tag alone. */
import type { LabelCode } from './contract.ts';

export interface Square {
  /** Squares a side, the empty border that readers need among them. */
  side: number;
  /** Column and row of each dark square. */
  dark: [column: number, row: number][];
}

interface Raw {
  pixs: readonly number[];
  pixx: number;
  pixy: number;
}

/** Empty squares round the code: 4 by ISO/IEC 18004, 1 by ISO/IEC 16022. */
const BORDER: Record<LabelCode, number> = { qr: 4, 'data-matrix': 1 };

/**
 * QR by ISO/IEC 18004, correction level M; Data Matrix by ISO/IEC 16022.
 * @param text at most 40 signs
 */
export const squareOf = async (text: string, code: LabelCode): Promise<Square> => {
  const { raw } = await import('bwip-js/node');
  const [made] = (code === 'qr' ? raw('qrcode', text, 'eclevel=M') : raw('datamatrix', text, '')) as unknown as Raw[];
  if (!made) throw new Error(`No code was made for ${text}.`);
  const border = BORDER[code];
  return {
    side: Math.max(made.pixx, made.pixy) + 2 * border,
    dark: [...made.pixs].flatMap((pixel, index): Square['dark'] =>
      pixel === 0 ? [] : [[border + (index % made.pixx), border + Math.floor(index / made.pixx)]],
    ),
  };
};
