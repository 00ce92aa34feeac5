/** Rows as the calibrations they would become, and all that stands in their way. */
import { trialBody, type CalibrationBody, type TrialBody } from '../calibrations/contract.ts';
import { recordBefore, settle, type Settled } from '../calibrations/beginning.ts';
import type { Reading } from '../db/logbook.ts';
import { findVessel, vesselWithTag, type StoredVessel } from '../glassware/store.ts';
import {
  openQuestions,
  QUESTION_NAMES,
  questionsForTrial,
  refusalsForTrial,
  type QuestionName,
} from '../metrology/questions.ts';
import { findTolerance, rowOf } from '../metrology/tolerance.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { Problem } from '../problem.ts';
import type { OldSheetBody, RowProblem } from './contract.ts';
import type { SheetRow } from './reading.ts';
import { isKnown } from './store.ts';

export interface SheetCalibration {
  tag: string;
  performedOn: string;
  lines: number[];
  trials: TrialBody[];
  /** Null where it cannot begin. */
  begins: { vessel: StoredVessel; settled: Settled } | null;
  isKnown: boolean;
  problems: RowProblem[];
}

const AIR = ['airTemperatureC', 'airPressureHpa', 'relativeHumidityPercent'] as const;

/** Rows of one vessel on one day are one calibration. */
export function groupRows(rows: readonly SheetRow[]): SheetRow[][] {
  const groups = new Map<string, SheetRow[]>();
  for (const row of rows) {
    const key = `${row.tag.normalize('NFC').toLowerCase()} ${row.performedOn}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()];
}

function trialOf({ fields }: SheetRow, vessel: StoredVessel, { assumed }: OldSheetBody): TrialBody {
  const own = (...names: (keyof typeof fields)[]) =>
    Object.fromEntries(names.flatMap((name) => (fields[name] === undefined ? [] : [[name, fields[name]]])));
  const isAssumed = fields.waterTemperatureC === undefined;
  return {
    pointMl: fields.pointMl ?? vessel.nominalVolumeMl,
    emptyG: fields.emptyG ?? '',
    filledG: fields.filledG ?? '',
    waterTemperatureC: fields.waterTemperatureC ?? assumed.waterTemperatureC ?? '',
    ...(isAssumed ? { waterTemperatureHalfWidthC: assumed.waterTemperatureHalfWidthC ?? '0' } : {}),
    ...own(...AIR, 'deliveryTimeS', 'waitingTimeS', 'note'),
  };
}

function bodyOf(rows: readonly SheetRow[], trials: readonly TrialBody[], { assumed }: OldSheetBody): CalibrationBody {
  const counts = new Map<number, { pointMl: string; n: number }>();
  for (const { pointMl } of trials) {
    const known = counts.get(Number(pointMl));
    counts.set(Number(pointMl), { pointMl: known?.pointMl ?? pointMl, n: (known?.n ?? 0) + 1 });
  }
  const [first] = rows;
  const read = Object.fromEntries(AIR.flatMap((name) => (first?.fields[name] ? [[name, first.fields[name]]] : [])));
  return {
    points: [...counts.values()].map(({ pointMl }) => pointMl),
    plannedTrials: Math.max(...[...counts.values()].map(({ n }) => n)),
    performedOn: first?.performedOn,
    conditions: { ...assumed.conditions, ...read },
    instruments: {},
  };
}

const isQuestion = (name: string | undefined): name is QuestionName => QUESTION_NAMES.some((one) => one === name);

/** What a refusal of the whole calibration says, at its first row. */
function saidOf(error: Problem, line: number): RowProblem[] {
  const { errors = [{ pointer: '#/tag', detail: error.message }] } = error.extras;
  return errors.map((one) => ({
    line,
    field: one.pointer.split('/').at(-1) ?? '',
    detail: one.detail,
    ...(isQuestion(one.confirm) ? { confirm: one.confirm } : {}),
  }));
}

async function trialProblems(db: Reading, judged: SheetCalibration, body: OldSheetBody): Promise<RowProblem[]> {
  if (judged.begins === null) return [];
  const { vessel, settled } = judged.begins;
  const record = await recordBefore(db, settled, vessel);
  const row = rowOf(findTolerance(toleranceRows, vessel));
  return judged.trials.flatMap((trial, index): RowProblem[] => {
    const line = judged.lines[index] ?? 0;
    const at = ({ pointer, detail }: { pointer: string; detail: string }) => ({
      line,
      field: pointer.replace('#/', ''),
      detail,
    });
    const refusals = refusalsForTrial(record, trial);
    if (refusals.length > 0) return refusals.map(at);
    const asked = questionsForTrial(record, trial, index + 1, row);
    return openQuestions(asked, body.confirm, body.note).map((question) => ({
      ...at(question),
      confirm: question.name,
    }));
  });
}

/** One calibration of the list as it would be taken over. */
export async function judge(
  db: Reading,
  rows: readonly SheetRow[],
  body: OldSheetBody,
  today: string,
): Promise<SheetCalibration> {
  const [{ tag, performedOn, line } = { tag: '', performedOn: '', line: 0 }] = rows;
  const judged: SheetCalibration = {
    tag,
    performedOn,
    lines: rows.map((row) => row.line),
    trials: [],
    begins: null,
    isKnown: false,
    problems: [],
  };
  const vesselId = await vesselWithTag(db, tag);
  const vessel = vesselId === null ? undefined : await findVessel(db, vesselId);
  if (!vessel) return { ...judged, problems: [{ line, field: 'tag', detail: `No vessel has the tag ${tag}.` }] };
  judged.trials = rows.map((row) => trialOf(row, vessel, body));
  judged.isKnown = await isKnown(db, vessel.id, performedOn, judged.trials);
  if (judged.isKnown) return judged;
  const dry = rows.filter(({ fields }) => fields.waterTemperatureC === undefined).map((row) => row.line);
  if (dry.length > 0 && (body.assumed.waterTemperatureC === undefined || !body.assumed.waterTemperatureHalfWidthC)) {
    const detail = 'The water temperature is missing. Say what is assumed, and how far it may be off.';
    return { ...judged, problems: dry.map((at) => ({ line: at, field: 'waterTemperatureC', detail })) };
  }
  const unfit = judged.trials.flatMap((trial, index): RowProblem[] =>
    (trialBody.safeParse(trial).error?.issues ?? []).map(({ path, message }) => ({
      line: judged.lines[index] ?? line,
      field: String(path[0] ?? ''),
      detail: message,
    })),
  );
  if (unfit.length > 0) return { ...judged, problems: unfit };
  try {
    const confirmed = { ...(body.confirm ? { confirm: body.confirm } : {}), ...(body.note ? { note: body.note } : {}) };
    const settled = await settle(db, vessel, { ...bodyOf(rows, judged.trials, body), ...confirmed }, today);
    judged.begins = { vessel, settled };
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    return { ...judged, problems: saidOf(error, line) };
  }
  judged.problems = await trialProblems(db, judged, body);
  return judged;
}
