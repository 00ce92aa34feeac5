/** Where the labels of a sheet lie: layout → places. Lengths in mm from the upper left corner of the sheet. */

export type SheetPaper = 'a4' | 'letter';

/** ISO 216 A4; North American Letter, 8.5 in × 11 in (ANSI/ASME Y14.1). */
export const SHEET_SIZES: Record<SheetPaper, { widthMm: number; heightMm: number }> = {
  a4: { widthMm: 210, heightMm: 297 },
  letter: { widthMm: 215.9, heightMm: 279.4 },
};

export interface SheetLayout {
  paper: SheetPaper;
  columns: number;
  rows: number;
  labelWidthMm: number;
  labelHeightMm: number;
  /** From the edge of the sheet to the first label. */
  marginLeftMm: number;
  marginTopMm: number;
  /** Between two labels. */
  gapAcrossMm: number;
  gapDownMm: number;
  /** How far this printer prints too far to the left and too high; moves every label. */
  offsetRightMm: number;
  offsetDownMm: number;
  /** The first label that is still on the sheet, counted line by line from 1. */
  firstLabel: number;
}

export interface LabelPlace {
  /** From 0. */
  sheet: number;
  xMm: number;
  yMm: number;
}

/** Sheets are cut to a tenth of a millimetre at best. */
const SLACK_MM = 0.1;

const extentMm = (count: number, sizeMm: number, gapMm: number): number => count * sizeMm + (count - 1) * gapMm;

export interface SheetProblem {
  field: 'columns' | 'rows' | 'firstLabel';
  /** What the labels need and what the sheet has, mm; labels and places for `firstLabel`. */
  needs: number;
  has: number;
}

/** What of a layout cannot be; empty where all labels lie on the sheet. */
export const sheetProblems = (layout: SheetLayout): SheetProblem[] => {
  const { widthMm, heightMm } = SHEET_SIZES[layout.paper];
  const across = layout.marginLeftMm + extentMm(layout.columns, layout.labelWidthMm, layout.gapAcrossMm);
  const down = layout.marginTopMm + extentMm(layout.rows, layout.labelHeightMm, layout.gapDownMm);
  const places = layout.columns * layout.rows;
  return [
    ...(across > widthMm + SLACK_MM ? [{ field: 'columns' as const, needs: across, has: widthMm }] : []),
    ...(down > heightMm + SLACK_MM ? [{ field: 'rows' as const, needs: down, has: heightMm }] : []),
    ...(layout.firstLabel > places ? [{ field: 'firstLabel' as const, needs: layout.firstLabel, has: places }] : []),
  ];
};

/** The places of so many labels, line by line from the first free one; further sheets are whole. */
export const labelPlaces = (layout: SheetLayout, count: number): LabelPlace[] => {
  const perSheet = layout.columns * layout.rows;
  return Array.from({ length: count }, (_, index) => {
    const at = layout.firstLabel - 1 + index;
    const onSheet = at % perSheet;
    const column = onSheet % layout.columns;
    const row = Math.floor(onSheet / layout.columns);
    return {
      sheet: Math.floor(at / perSheet),
      xMm: layout.marginLeftMm + layout.offsetRightMm + column * (layout.labelWidthMm + layout.gapAcrossMm),
      yMm: layout.marginTopMm + layout.offsetDownMm + row * (layout.labelHeightMm + layout.gapDownMm),
    };
  });
};
