/** A list from paper judged as a whole, shown, and taken over in one write. */
import { beginCalibration } from '../calibrations/begin.ts';
import { recordTrial } from '../calibrations/recording.ts';
import type { Reading } from '../db/logbook.ts';
import type { Writing as LogbookWriting } from '../db/write.ts';
import { withoutGaps } from '../journal/values.ts';
import { invalid, Problem, type FieldProblem } from '../problem.ts';
import { newId } from '../requests.ts';
import { MOST_ROWS, type OldSheetBody, type OldSheetPreview, type OldSheetTaken, type RowProblem } from './contract.ts';
import { detectWriting, partedBy, type SheetLine } from './detecting.ts';
import { groupRows, judge, type SheetCalibration } from './judging.ts';
import { readRow } from './reading.ts';
import { keepMapping } from './store.ts';

const SAMPLE_LINES = 6;

interface Judged {
  proposed: OldSheetPreview['proposed'];
  lines: SheetLine[];
  calibrations: SheetCalibration[];
  problems: RowProblem[];
}

/** A volume or a difference alone is no reading: a made-up mass would have to stand for it. */
function refuseMapping({ mapping }: OldSheetBody): void {
  const { emptyG, filledG, tag } = mapping.columns;
  const detail =
    'A trial needs the empty and the filled reading. A volume, a mean or a difference alone cannot be taken over: the record would have to make up a mass. Keep such results as a note of the vessel.';
  const missing: FieldProblem[] = [];
  if (tag === undefined) missing.push({ pointer: '#/mapping/columns/tag', detail: 'Say which column holds the tag.' });
  if (emptyG === undefined) missing.push({ pointer: '#/mapping/columns/emptyG', detail });
  if (filledG === undefined) missing.push({ pointer: '#/mapping/columns/filledG', detail });
  if (missing.length > 0) throw invalid(missing);
}

/** What the list leaves open has to be said before anything is taken over. */
function refuseGuesses({ mapping }: OldSheetBody): void {
  const needed = ['delimiter', 'decimalMark', ...(mapping.columns.performedOn ? ['dateOrder'] : [])] as const;
  const missing = needed.filter((one) => mapping[one as 'delimiter'] === undefined);
  if (missing.length === 0) return;
  throw invalid(missing.map((one) => ({ pointer: `#/mapping/${one}`, detail: 'Say how the list is written.' })));
}

export async function judgeList(db: Reading, body: OldSheetBody, today: string): Promise<Judged> {
  const { mapping } = body;
  const { delimiter, decimalMark, dateOrder } = mapping;
  const proposed = detectWriting(body.list, withoutGaps({ delimiter, decimalMark, dateOrder }) as object);
  const all = proposed.delimiter === null ? [] : partedBy(body.list, proposed.delimiter);
  if (all === null) throw invalid([{ pointer: '#/list', detail: 'A quoted cell of the list has no end.' }]);
  const lines = mapping.hasHeader ? all.slice(1) : all;
  if (lines.length > MOST_ROWS)
    throw invalid([
      { pointer: '#/list', detail: `The list has ${lines.length} rows; take over at most ${MOST_ROWS} at once.` },
    ]);
  const mark = proposed.decimalMark;
  const isReadable = mark !== null && mapping.columns.tag !== undefined;
  if (!isReadable) return { proposed, lines: all, calibrations: [], problems: [] };
  refuseMapping(body);
  const how = {
    columns: mapping.columns,
    decimalMark: mark,
    dateOrder: proposed.dateOrder,
    performedOn: body.performedOn,
  };
  const read = lines.map((line) => readRow(line, how));
  const calibrations: SheetCalibration[] = [];
  for (const group of groupRows(read.map(({ row }) => row))) {
    const ofGroup = new Set(group.map((row) => row.line));
    const unread = read.flatMap(({ problems }) => problems).filter(({ line }) => ofGroup.has(line));
    const [first] = group;
    calibrations.push(
      unread.length === 0
        ? await judge(db, group, body, today)
        : {
            tag: first?.tag ?? '',
            performedOn: first?.performedOn ?? '',
            lines: [...ofGroup],
            trials: [],
            begins: null,
            isKnown: false,
            problems: unread,
          },
    );
  }
  return { proposed, lines: all, calibrations, problems: calibrations.flatMap((one) => one.problems) };
}

const standingOf = ({ isKnown, problems }: SheetCalibration): OldSheetPreview['calibrations'][number]['standing'] => {
  if (isKnown) return 'known';
  if (problems.length === 0) return 'good';
  return problems.every((problem) => problem.confirm !== undefined) ? 'questions' : 'refused';
};

export const previewOf = ({ proposed, lines, calibrations, problems }: Judged): OldSheetPreview => ({
  dryRun: true,
  proposed,
  sample: lines.slice(0, SAMPLE_LINES).map(({ cells }) => cells),
  rows: lines.length,
  calibrations: calibrations.map((one) => ({
    tag: one.tag,
    performedOn: one.performedOn,
    lines: one.lines,
    standing: standingOf(one),
  })),
  problems,
});

/** @throws Problem naming every row in the way, unless only the good ones were asked for */
function refuseRows({ problems, calibrations }: Judged, { onlyGood }: OldSheetBody): void {
  if (calibrations.length === 0) throw invalid([{ pointer: '#/list', detail: 'The list holds no row.' }]);
  if (calibrations.every((one) => one.isKnown))
    throw new Problem('duplicate', { detail: 'Every calibration of this list is in the record already.' });
  if (problems.length === 0) return;
  if (onlyGood && calibrations.some((one) => standingOf(one) === 'good')) return;
  const errors = problems.map(({ line, detail, confirm }) => ({
    pointer: '#/list',
    detail: `Line ${line}: ${detail}`,
    ...(confirm ? { confirm } : {}),
  }));
  throw problems.every(({ confirm }) => confirm !== undefined)
    ? new Problem('please-confirm', { errors })
    : invalid(errors);
}

async function takeOver(writing: LogbookWriting, one: SheetCalibration, body: OldSheetBody, key: string) {
  if (one.begins === null) throw new Error('A calibration without a vessel was to be taken over.');
  const { vessel, settled } = one.begins;
  const calibrationId = newId();
  await beginCalibration(writing, vessel, { id: calibrationId, settled, origin: 'paper' });
  for (const [index, trial] of one.trials.entries()) {
    const number = index + 1;
    const confirmed = body.confirm ? { ...trial, confirm: body.confirm } : trial;
    const requestKey = `${key}/${vessel.id}/${one.performedOn}/${number}`;
    await recordTrial(writing, { calibrationId, number, body: confirmed, requestKey });
  }
  return { id: calibrationId, tag: vessel.tag, performedOn: one.performedOn, trials: one.trials.length };
}

export async function takeOverList(writing: LogbookWriting, body: OldSheetBody, key: string, today: string) {
  refuseMapping(body);
  refuseGuesses(body);
  const judged = await judgeList(writing.trx, body, today);
  refuseRows(judged, body);
  const taken: OldSheetTaken = { calibrations: [], leftOut: [] };
  for (const one of judged.calibrations) {
    if (standingOf(one) === 'good') taken.calibrations.push(await takeOver(writing, one, body, key));
    else taken.leftOut.push(...one.lines);
  }
  const { at, actor, trx } = writing;
  if (body.rememberAs) await keepMapping(trx, { name: body.rememberAs, mapping: body.mapping, at, actor });
  return taken;
}
