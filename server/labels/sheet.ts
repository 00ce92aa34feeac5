/** A sheet of labels as PDF: only what is cut out, at the very places where the sheet is cut. */
import PDFDocument from 'pdfkit';
import { labelPlaces, SHEET_SIZES, type SheetLayout } from '../../web/plots/label-sheet.ts';
import { registerFonts } from '../certificates/pdf/type.ts';
import type { LabelCode } from './contract.ts';
import { drawLabel, type LabelFacts } from './label.ts';
import { squareOf } from './square.ts';

export interface LabelSheetInput {
  layout: SheetLayout;
  code: LabelCode;
  outlines: boolean;
  labels: readonly LabelFacts[];
  madeAt: string;
  program: string;
}

/** Points in a millimetre. */
const POINTS = 72 / 25.4;

const documentFor = ({ layout, madeAt, program }: LabelSheetInput): PDFKit.PDFDocument => {
  const { widthMm, heightMm } = SHEET_SIZES[layout.paper];
  const at = new Date(madeAt);
  return new PDFDocument({
    size: [widthMm * POINTS, heightMm * POINTS],
    margins: { top: 0, bottom: 0, left: 0, right: 0 },
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    info: { Title: 'Labels', Creator: program, Producer: program, CreationDate: at, ModDate: at },
  });
};

export const labelSheetPdf = async (input: LabelSheetInput): Promise<Buffer> => {
  const { layout, code, labels, outlines } = input;
  const document = documentFor(input);
  const chunks: Buffer[] = [];
  const finished = new Promise<Buffer>((resolve, reject) => {
    document.on('data', (chunk: Buffer) => chunks.push(chunk));
    document.on('end', () => resolve(Buffer.concat(chunks)));
    document.on('error', reject);
  });
  registerFonts(document);
  let sheet = 0;
  for (const [index, place] of labelPlaces(layout, labels.length).entries()) {
    const facts = labels[index];
    if (!facts) continue;
    for (; sheet < place.sheet; sheet += 1) document.addPage();
    const box = {
      x: place.xMm * POINTS,
      y: place.yMm * POINTS,
      width: layout.labelWidthMm * POINTS,
      height: layout.labelHeightMm * POINTS,
    };
    drawLabel(document, facts, await squareOf(facts.tag, code), box);
    if (outlines) document.rect(box.x, box.y, box.width, box.height).lineWidth(0.25).strokeColor('#7d909a').stroke();
  }
  document.end();
  return finished;
};
