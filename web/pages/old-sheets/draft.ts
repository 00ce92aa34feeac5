/** The list and its columns as chosen, and the request made of them. */
import type {
  DateOrder,
  DecimalMark,
  Delimiter,
  Mapping,
  OldSheetBody,
  SheetField,
  Writing,
} from '../../../server/old-sheets/contract.ts';
import { readNumber } from '../../parts/read-number.ts';

export interface SheetDraft {
  list: string;
  hasHeader: boolean;
  delimiter: Delimiter | '';
  decimalMark: DecimalMark | '';
  dateOrder: DateOrder | '';
  columns: Partial<Record<SheetField, number>>;
  performedOn: string;
  waterTemperatureC: string;
  waterTemperatureHalfWidthC: string;
  rememberAs: string;
  onlyGood: boolean;
}

export const EMPTY_SHEET: SheetDraft = {
  list: '',
  hasHeader: true,
  delimiter: '',
  decimalMark: '',
  dateOrder: '',
  columns: {},
  performedOn: '',
  waterTemperatureC: '',
  waterTemperatureHalfWidthC: '',
  rememberAs: '',
  onlyGood: false,
};

/** What nobody has chosen yet is filled with what the list shows. */
export const withProposed = (draft: SheetDraft, proposed: Writing): SheetDraft => ({
  ...draft,
  delimiter: draft.delimiter || (proposed.delimiter ?? ''),
  decimalMark: draft.decimalMark || (proposed.decimalMark ?? ''),
  dateOrder: draft.dateOrder || (proposed.dateOrder ?? ''),
});

export const withMapping = (draft: SheetDraft, kept: Mapping): SheetDraft => ({
  ...draft,
  hasHeader: kept.hasHeader,
  columns: kept.columns,
  delimiter: kept.delimiter ?? '',
  decimalMark: kept.decimalMark ?? '',
  dateOrder: kept.dateOrder ?? '',
});

/** Body of the request; `problems` by field where a typed number cannot be read. */
export function readSheetDraft(
  draft: SheetDraft,
  dryRun: boolean,
): { body: OldSheetBody; problems: Partial<Record<string, string>> } {
  const problems: Partial<Record<string, string>> = {};
  const assumed: OldSheetBody['assumed'] = { conditions: {} };
  for (const field of ['waterTemperatureC', 'waterTemperatureHalfWidthC'] as const) {
    if (draft[field].trim() === '') continue;
    const read = readNumber(draft[field], '°C');
    if (read.ok) assumed[field] = read.value;
    else problems[`assumed/${field}`] = read.problem;
  }
  const { delimiter, decimalMark, dateOrder } = draft;
  return {
    problems,
    body: {
      dryRun,
      list: draft.list,
      mapping: {
        hasHeader: draft.hasHeader,
        columns: draft.columns,
        ...(delimiter ? { delimiter } : {}),
        ...(decimalMark ? { decimalMark } : {}),
        ...(dateOrder ? { dateOrder } : {}),
      },
      assumed,
      onlyGood: draft.onlyGood,
      ...(draft.performedOn.trim() ? { performedOn: draft.performedOn.trim() } : {}),
      ...(draft.rememberAs.trim() ? { rememberAs: draft.rememberAs.trim() } : {}),
    },
  };
}
