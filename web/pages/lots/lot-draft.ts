/** The form of a delivery: what is typed, and how it becomes a body. */
import type { LotBody } from '../../../server/lots/contract.ts';
import { ProblemError } from '../../api.ts';
import { newLotText } from '../../messages/en-lots.ts';
import type { KeptForm } from '../../parts/use-kept-form.ts';
import { EMPTY_DRAFT, missingIn, readDraft, type VesselDraft } from '../vessel/draft.ts';

export interface LotDraft {
  name: string;
  receivedOn: string;
  supplier: string;
  maker: string;
  tagging: 'numbered' | 'listed';
  pattern: string;
  first: string;
  count: string;
  list: string;
  intervalMonths: string;
  note: string;
  ware: VesselDraft;
}

/** @param today ISO day: what arrives is mostly registered the same day */
export const emptyLot = (today: string): LotDraft => ({
  name: '',
  receivedOn: today,
  supplier: '',
  maker: '',
  tagging: 'numbered',
  pattern: '',
  first: '1',
  count: '',
  list: '',
  intervalMonths: '',
  note: '',
  ware: EMPTY_DRAFT,
});

export const keptLot = (first: LotDraft, { draft: kept }: KeptForm<LotDraft>): LotDraft => ({
  ...first,
  ...kept,
  ware: { ...first.ware, ...kept.ware },
});

type Problems = Partial<Record<string, string>>;
type Body = Omit<Partial<LotBody>, 'ware'> & { ware: object };

const filled = (texts: Record<string, string>): Record<string, string> =>
  Object.fromEntries(Object.entries(texts).flatMap(([name, typed]) => (typed.trim() ? [[name, typed.trim()]] : [])));

/** What is still empty in the form, all at once. */
function missingInLot(draft: LotDraft): Problems {
  const { missing } = newLotText;
  const isNumbered = draft.tagging === 'numbered';
  const hasList = draft.list.trim() !== '';
  return {
    ...missingIn(draft.ware, true),
    ...(draft.name.trim() === '' ? { name: missing.name } : {}),
    ...(draft.receivedOn.trim() === '' ? { receivedOn: missing.receivedOn } : {}),
    ...(isNumbered && draft.pattern.trim() === '' ? { 'numbering/pattern': missing.pattern } : {}),
    ...(isNumbered && draft.count.trim() === '' && !hasList ? { 'numbering/count': missing.count } : {}),
    ...(isNumbered || hasList ? {} : { list: missing.list }),
  };
}

export function readLot(draft: LotDraft): { body: Body; problems: Problems } {
  const { body: read, problems } = readDraft(draft.ware);
  // Without a kind its fields are not in sight.
  if (draft.ware.kind === '') delete problems['nominalVolumeMl'];
  const { tag: _tag, ...ware } = read;
  const whole = (name: string, typed: string): number | undefined => {
    if (/^\s*\d{1,6}\s*$/.test(typed)) return Number(typed);
    problems[name] = newLotText.countWhole;
    return undefined;
  };
  const months = draft.intervalMonths.trim() === '' ? undefined : whole('intervalMonths', draft.intervalMonths);
  const { name, receivedOn, supplier, maker, note } = draft;
  const body: Body = {
    name: name.trim(),
    receivedOn: receivedOn.trim(),
    ...filled({ supplier, maker, note }),
    ware: { ...ware, ...(months === undefined ? {} : { intervalMonths: months }) },
  };
  if (draft.tagging === 'numbered') {
    const first = whole('numbering/first', draft.first) ?? 0;
    const isCounted = draft.count.trim() !== '' || draft.list.trim() === '';
    const count = isCounted ? whole('numbering/count', draft.count) : undefined;
    body.numbering = { pattern: draft.pattern.trim(), first, ...(count === undefined ? {} : { count }) };
  }
  if (draft.tagging === 'listed' || draft.list.trim() !== '') body.list = draft.list;
  return { body, problems: { ...problems, ...missingInLot(draft) } };
}

/** The fields of the ware stand in the form as those of a single vessel do: without the place of the ware in the body. */
export const atVesselFields = (error: unknown): unknown =>
  error instanceof ProblemError
    ? new ProblemError(error.status, {
        ...error.body,
        errors: error.fields.map((one) => ({ ...one, pointer: one.pointer.replace('#/ware/', '#/') })),
      })
    : error;
