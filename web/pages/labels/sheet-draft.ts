/** The sheet as it is typed: kept in this browser, since the printer stands beside it. */
import { sheetProblems, type SheetLayout, type SheetPaper } from '../../plots/label-sheet.ts';
import { labelsText as words } from '../../messages/en-labels.ts';
import { readNumber } from '../../parts/read-number.ts';

export const COUNTS = ['columns', 'rows', 'firstLabel'] as const;
export const LENGTHS = [
  'labelWidthMm',
  'labelHeightMm',
  'marginLeftMm',
  'marginTopMm',
  'gapAcrossMm',
  'gapDownMm',
  'offsetRightMm',
  'offsetDownMm',
] as const;
export type SheetField = (typeof COUNTS)[number] | (typeof LENGTHS)[number];
export interface SheetDraft extends Record<SheetField, string> {
  paper: SheetPaper;
  code: 'qr' | 'data-matrix';
}

/** Any sheet to begin with: three by eight labels of 64 mm × 34 mm. */
const FIRST: SheetDraft = {
  ...{ paper: 'a4', code: 'qr', columns: '3', rows: '8', firstLabel: '1', labelWidthMm: '64', labelHeightMm: '34' },
  ...{ marginLeftMm: '7', marginTopMm: '12', gapAcrossMm: '2', gapDownMm: '0', offsetRightMm: '0', offsetDownMm: '0' },
};

/** What the server takes; it refuses the same. */
const RANGES: Record<SheetField, [least: number, most: number]> = {
  columns: [1, 20],
  rows: [1, 60],
  firstLabel: [1, 1200],
  labelWidthMm: [38, 300],
  labelHeightMm: [10, 300],
  marginLeftMm: [0, 300],
  marginTopMm: [0, 300],
  gapAcrossMm: [0, 300],
  gapDownMm: [0, 300],
  offsetRightMm: [-20, 20],
  offsetDownMm: [-20, 20],
};

const SHELF = 'tarebook.labels';

export const keptSheet = (): SheetDraft => {
  try {
    return { ...FIRST, ...(JSON.parse(localStorage.getItem(SHELF) ?? '{}') as Partial<SheetDraft>) };
  } catch {
    return FIRST;
  }
};

/** The next sheet of the box is whole: the first free label is not kept. */
export const keepSheet = (draft: SheetDraft): void => {
  try {
    localStorage.setItem(SHELF, JSON.stringify({ ...draft, firstLabel: '1' }));
  } catch {
    // A browser that keeps nothing prints all the same.
  }
};

export type SheetProblems = Partial<Record<SheetField, string>>;

const isCount = (field: SheetField): boolean => (COUNTS as readonly string[]).includes(field);
const tenth = (mm: number): string => String(Math.round(10 * mm) / 10);

/** The layout, or what stands in its way. */
export function readSheet(draft: SheetDraft): { layout: SheetLayout | null; problems: SheetProblems } {
  const problems: SheetProblems = {};
  const numbers = {} as Record<SheetField, number>;
  for (const field of [...COUNTS, ...LENGTHS]) {
    const read = readNumber(draft[field], isCount(field) ? '' : 'mm');
    const [least, most] = RANGES[field];
    const value = read.ok ? Number(read.value) : Number.NaN;
    if (!read.ok) problems[field] = read.problem;
    else if (isCount(field) && !Number.isInteger(value)) problems[field] = words.whole;
    else if (value < least || value > most) problems[field] = words.between(least, most, isCount(field) ? '' : ' mm');
    numbers[field] = value;
  }
  if (Object.keys(problems).length > 0) return { layout: null, problems };
  const layout = { paper: draft.paper, ...numbers };
  for (const { field, needs, has } of sheetProblems(layout)) {
    if (field === 'columns') problems.columns = words.tooWide(tenth(needs), tenth(has));
    else if (field === 'rows') problems.rows = words.tooHigh(tenth(needs), tenth(has));
    else problems.firstLabel = words.noSuchLabel(has);
  }
  return { layout: Object.keys(problems).length > 0 ? null : layout, problems };
}
