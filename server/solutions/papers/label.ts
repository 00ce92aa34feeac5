/** The label of one solution, a page of its size: what it is, how sure, until when, and room for the hazards. */
import PDFDocument from 'pdfkit';
import { INK, type Style } from '../../certificates/pdf/ink.ts';
import { linesOf, printable, registerFonts, useStyle } from '../../certificates/pdf/type.ts';
import { drawSquare, squareOf } from '../../labels/square.ts';
import { APPROXIMATE, concentrationWords, HAZARDS_BY_HAND, type PreparationPaper } from './facts.ts';

/** Points in a millimetre. */
const POINTS = 72 / 25.4;
const WIDTH = 90 * POINTS;
const HEIGHT = 48 * POINTS;
const PADDING = 8;
const CODE = 56;

const style = (size: number, font: Style['font'] = 'regular'): Style => ({
  ...{ font, size, colour: INK.ink, leading: size * 1.3 },
});

/** Sets lines from `y` down; @returns where the next one stands */
const setLines = (
  canvas: PDFKit.PDFDocument,
  text: string,
  at: { y: number; width: number; most: number },
  look: Style,
): number => {
  const lines = linesOf(canvas, text, at.width, look).slice(0, at.most);
  useStyle(canvas, look);
  lines.forEach((line, down) =>
    canvas.text(printable(canvas, line), PADDING, at.y + down * look.leading, { lineBreak: false }),
  );
  return at.y + lines.length * look.leading;
};

const dates = ({ madeOn, expiresOn }: PreparationPaper['preparation']): string =>
  `made ${madeOn}${expiresOn === null ? '' : ` · expires ${expiresOn}`}`;

/** The same input gives the same bytes. */
export const preparationLabelPdf = async ({ preparation, madeAt, program }: PreparationPaper): Promise<Buffer> => {
  const at = new Date(madeAt);
  const document = new PDFDocument({
    size: [WIDTH, HEIGHT],
    margins: { top: 0, bottom: 0, left: 0, right: 0 },
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    info: { Title: `Label ${preparation.number}`, Creator: program, Producer: program, CreationDate: at, ModDate: at },
  });
  const chunks: Buffer[] = [];
  const finished = new Promise<Buffer>((resolve, reject) => {
    document.on('data', (chunk: Buffer) => chunks.push(chunk));
    document.on('end', () => resolve(Buffer.concat(chunks)));
    document.on('error', reject);
  });
  registerFonts(document);
  const beside = WIDTH - 2 * PADDING - CODE - 4;
  let y = setLines(document, preparation.title, { y: PADDING, width: beside, most: 2 }, style(12, 'strong'));
  y = setLines(document, concentrationWords(preparation), { y: y + 1, width: beside, most: 2 }, style(10));
  if (preparation.approximate) y = setLines(document, APPROXIMATE, { y, width: beside, most: 1 }, style(8));
  setLines(document, dates(preparation), { y: y + 1, width: WIDTH - 2 * PADDING, most: 1 }, style(8));
  drawSquare(document, await squareOf(preparation.number, 'qr'), { x: WIDTH - PADDING - CODE, y: PADDING, side: CODE });
  drawFoot(document, preparation);
  document.end();
  return finished;
};

/** Number, and the hazards: as somebody wrote them, or a line to write on. */
function drawFoot(canvas: PDFKit.PDFDocument, { number, hazardLine }: PreparationPaper['preparation']): void {
  const top = HEIGHT - PADDING - 32;
  canvas
    .moveTo(PADDING, top)
    .lineTo(WIDTH - PADDING, top)
    .lineWidth(0.6)
    .strokeColor(INK.hair)
    .stroke();
  const width = WIDTH - 2 * PADDING;
  setLines(canvas, hazardLine ?? HAZARDS_BY_HAND, { y: top + 3, width, most: 2 }, style(7.5));
  setLines(canvas, number, { y: HEIGHT - PADDING - 9, width, most: 1 }, style(8, 'strong'));
}
