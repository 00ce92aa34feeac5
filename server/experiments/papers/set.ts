/** Papers of a class are set beside the server, as all papers are. */
import { makePdf } from '../../certificates/pdf/making.ts';
import type { ClassPaperInput } from './class-paper.ts';
import type { ReportInput } from './report.ts';
import type { WorksheetInput } from './worksheet.ts';

export const setReport = (input: ReportInput): Promise<Buffer> => makePdf({ kind: 'class-report', input });
export const setWorksheet = (input: WorksheetInput): Promise<Buffer> => makePdf({ kind: 'class-worksheet', input });
export const setSheet = (input: ClassPaperInput): Promise<Buffer> => makePdf({ kind: 'class-sheet', input });
