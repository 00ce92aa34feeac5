/** A delivery as it would be registered: which tags and serials, and what stands in the way of each. */
import type { Reading } from '../db/logbook.ts';
import { vesselIdentity, vesselBody, type VesselBody } from '../glassware/contract.ts';
import { duplicateTag } from '../glassware/register.ts';
import { newVessel, vesselWithTag, type StoredVessel } from '../glassware/store.ts';
import { refusalsForVessel } from '../metrology/vessel-refusals.ts';
import { questionsForVessel, type Question } from '../metrology/questions.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { invalid, type FieldProblem } from '../problem.ts';
import type { LotBody, PreviewRow } from './contract.ts';
import { numberedTags } from './numbering.ts';
import { readPasted, type PastedRow } from './pasted.ts';

const MOST_VESSELS = 500;

const refuse = (pointer: string, detail: string) => invalid([{ pointer, detail }]);

const pastedRows = ({ list, numbering }: LotBody): PastedRow[] | null => {
  if (list === undefined) return null;
  const read = readPasted(list, numbering !== undefined);
  if (!read.ok) throw refuse('#/list', read.detail);
  if (read.rows.length > MOST_VESSELS)
    throw refuse('#/list', `The list has ${read.rows.length} rows; a lot has at most ${MOST_VESSELS} vessels.`);
  return read.rows;
};

/** @throws Problem where pattern, count and list do not go together */
const rowsOf = (body: LotBody): PastedRow[] => {
  const pasted = pastedRows(body);
  const { numbering } = body;
  if (!numbering) return pasted ?? [];
  const count = numbering.count ?? pasted?.length ?? 0;
  if (pasted && pasted.length !== count) {
    const detail = `The list has ${pasted.length} serial numbers, but ${count} vessels arrived.`;
    throw refuse('#/list', detail);
  }
  const made = numberedTags(numbering.pattern, numbering.first, count);
  if (!made.ok) throw refuse(`#/numbering/${made.field}`, made.detail);
  return made.tags.map((tag, index) => ({
    line: pasted?.[index]?.line ?? index + 1,
    tag,
    serial: pasted?.[index]?.serial ?? '',
  }));
};

const checked = (
  schema: typeof vesselBody.shape.tag | typeof vesselIdentity.serial,
  text: string,
): { text: string; problem: string | null } => {
  if (text.includes('\t'))
    return { text, problem: 'A tab parts its columns, but not those of the first line. Use one sign in every line.' };
  const read = schema.safeParse(text);
  if (read.success) return { text: read.data ?? '', problem: null };
  return { text, problem: read.error.issues[0]?.message ?? '' };
};

const small = (tag: string): string => tag.normalize('NFC').toLowerCase();

/** One delivery is of one make, whose serial numbers tell its pieces apart. */
const serialTwice = (lines: Map<string, number>, line: number, serial: string): PreviewRow['problems'] => {
  const earlier = lines.get(small(serial));
  if (earlier === undefined) {
    lines.set(small(serial), line);
    return [];
  }
  const detail = `The serial number ${serial} stands in line ${earlier} already. What several pieces share belongs in the note.`;
  return [{ field: 'serial', detail }];
};

/** Every row with what is wrong with it: empty, too long, twice in the list (tag or serial number), or borne by another vessel. */
export const previewRows = async (db: Reading, body: LotBody): Promise<PreviewRow[]> => {
  const lines = new Map<string, number>();
  const serialLines = new Map<string, number>();
  const rows: PreviewRow[] = [];
  for (const row of rowsOf(body)) {
    const tag = checked(vesselBody.shape.tag, row.tag);
    const serial = checked(vesselIdentity.serial, row.serial);
    const problems: PreviewRow['problems'] = [];
    if (tag.problem !== null) problems.push({ field: 'tag', detail: tag.problem });
    const earlier = lines.get(small(tag.text));
    if (tag.problem === null && earlier !== undefined)
      problems.push({ field: 'tag', detail: `The tag ${tag.text} stands in line ${earlier} already.` });
    else if (tag.problem === null && (await vesselWithTag(db, tag.text)) !== null)
      problems.push({ field: 'tag', detail: duplicateTag(tag.text).message });
    if (earlier === undefined) lines.set(small(tag.text), row.line);
    if (serial.problem !== null) problems.push({ field: 'serial', detail: serial.problem });
    else if (serial.text !== '') problems.push(...serialTwice(serialLines, row.line, serial.text));
    rows.push({ line: row.line, tag: tag.text, serial: serial.text === '' ? null : serial.text, problems });
  }
  return rows;
};

/** @throws Problem `validation-failed` with every row that cannot be registered */
export const refuseRows = ({ list, numbering }: LotBody, rows: readonly PreviewRow[]): void => {
  const source = list !== undefined && numbering === undefined ? 'list' : 'numbering/pattern';
  const errors = rows.flatMap((row): FieldProblem[] =>
    row.problems.map(({ field, detail }) => ({
      pointer: field === 'serial' ? '#/list' : `#/${source}`,
      detail: `Line ${row.line}: ${detail}`,
    })),
  );
  if (errors.length > 0) throw invalid(errors);
};

/** The body each vessel is registered with, as if it came alone. */
export const vesselBodyOf = (body: LotBody, row: PreviewRow): VesselBody => ({
  ...body.ware,
  tag: row.tag,
  acquiredOn: body.receivedOn,
  ...(body.maker ? { maker: body.maker } : {}),
  ...(row.serial === null ? {} : { serial: row.serial }),
});

const atWare = <T extends { pointer: string }>(problems: readonly T[]): T[] =>
  problems.map((problem) => ({ ...problem, pointer: problem.pointer.replace('#/', '#/ware/') }));

/** One vessel of the delivery that stands for all, to look up its tolerance. */
export const sampleOf = (body: LotBody): StoredVessel => {
  const row: PreviewRow = { line: 1, tag: '-', serial: null, problems: [] };
  return newVessel(vesselBodyOf(body, row), { id: '-', at: '', actor: '' });
};

/** @throws Problem where no tolerance is known for such ware, or something else of it cannot be */
export const refuseWare = (sample: StoredVessel): void => {
  const refusals = atWare(refusalsForVessel(toleranceRows, sample));
  if (refusals.length > 0) throw invalid(refusals);
};

export const questionsForWare = (sample: StoredVessel): Question[] => atWare(questionsForVessel(toleranceRows, sample));
