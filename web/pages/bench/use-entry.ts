import { useMemo, useState } from 'react';
import type { Calibration, TrialBody } from '../../../server/calibrations/contract.ts';
import type { CalibrationRecord, EmptySource } from '../../../server/metrology/record.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import type { OutboxEntry, TypedTrial } from '../../outbox.ts';
import { useOutbox } from '../../use-outbox.ts';
import {
  type EarlierTrial,
  type FieldProblems,
  followCarried,
  nextEntry,
  readEntry,
  takenOverFrom,
  withEmptySource,
} from './entry.ts';
import { type AtField, liveTrial, NOTHING_LIVE } from './live.ts';
import type { ReceiverWay } from './receiver.ts';
import { isAtPoint } from './record.ts';
import { noteTypedHere, typedHere } from './typed-here.ts';

/** Trials before the one being typed, saved and unsent, oldest first, at the readings that count. */
function earlierTrials(calibration: Calibration, pending: readonly OutboxEntry[]): EarlierTrial[] {
  const saved: EarlierTrial[] = calibration.trials.map((trial) => ({ ...trial, ...trial.used }));
  const last = saved.at(-1)?.number ?? 0;
  const unsent = pending.flatMap((entry, index) => {
    const number = entry.savedNumber ?? last + index + 1;
    return entry.body && number > last ? [{ ...entry.body, number }] : [];
  });
  return [...saved, ...unsent];
}

/** What stands in the way of saving, shown at its field; the answers to questions; what was converted. */
interface Asked {
  problems: FieldProblems;
  questions: readonly AtField[];
  confirmed: readonly string[];
  note: string;
  notes: FieldProblems;
}
const NOTHING_ASKED: Asked = { problems: {}, questions: [], confirmed: [], note: '', notes: {} };

const CONFIRM_NAMES = ['air-pressure', 'volume', 'tolerance'] as const;

/** The body with the questions answered; the answer joins the trial's own note. */
function withAnswers(body: TrialBody, { confirmed, note }: Asked): TrialBody {
  const confirm = CONFIRM_NAMES.filter((name) => confirmed.includes(name));
  if (confirm.length === 0 || note.trim() === '') return body;
  return { ...body, confirm, note: [body.note, note.trim()].filter(Boolean).join('\n') };
}

/** A field that changes is asked about anew; the two readings are judged together. */
function withoutFields(asked: Asked, changed: readonly string[]): Asked {
  const fields =
    changed.includes('emptyG') || changed.includes('filledG') ? [...changed, 'emptyG', 'filledG'] : changed;
  const others = (of: FieldProblems) =>
    Object.fromEntries(Object.entries(of).filter(([field]) => !fields.includes(field)));
  return { ...NOTHING_ASKED, problems: others(asked.problems), note: asked.note, notes: others(asked.notes) };
}

/** This tab's own half trial before one that another tab began. */
function begunHere(typed: readonly OutboxEntry[]): OutboxEntry | undefined {
  const mine = typedHere();
  return typed.find(({ id }) => mine.includes(id)) ?? typed[0];
}

interface EntryOptions {
  calibration: Calibration;
  record: CalibrationRecord;
  row: ToleranceRow | null;
  pointMl: string;
  /** How the receiver is weighed; null for a vessel that is itself filled and weighed. */
  way: ReceiverWay | null;
}

/** Entries of this calibration: all of them, those no longer in the fields, and those that count beside its trials. */
function useEntriesOf(calibration: Calibration, entries: readonly OutboxEntry[]) {
  const mine = useMemo(
    () => entries.filter((entry) => entry.calibrationId === calibration.id),
    [entries, calibration.id],
  );
  const pending = useMemo(() => mine.filter((entry) => entry.state !== 'typed'), [mine]);
  // A refused entry is no trial: it has no number and counts in nothing until it is changed. A saved one stays until the
  // page has heard of its trial from the server, and must not count beside it.
  const onTheWay = useMemo(() => {
    const known = new Set(calibration.trials.map((trial) => trial.number));
    return pending.filter((entry) => entry.state !== 'failed' && !known.has(entry.savedNumber ?? 0));
  }, [pending, calibration.trials]);
  return { mine, pending, onTheWay };
}

/** The next trial before anything is typed; the same one until another trial stands before it. */
function useBlank(
  calibration: Calibration,
  pointMl: string,
  earlier: readonly EarlierTrial[],
  way: ReceiverWay | null,
): OutboxEntry {
  const { id: calibrationId, origin } = calibration;
  const last = earlier.at(-1);
  return useMemo(
    () => nextEntry({ calibrationId, tag: calibration.vessel.tag, pointMl }, earlier, way, origin === 'sheet'),
    // Only another trial before it makes it another one; everything else of `earlier` follows from these.
    [calibrationId, origin, pointMl, last?.number, last?.emptySource, last?.waterTemperatureC, last?.filledG, way],
  );
}

/** The trial being typed at one test point: its fields, what they give so far, and the way into the outbox. */
export function useEntry({ calibration, record, row, pointMl, way }: EntryOptions) {
  const { outbox, entries } = useOutbox();
  const { mine, pending, onTheWay } = useEntriesOf(calibration, entries);
  const earlier = earlierTrials(calibration, onTheWay);
  const number = (earlier.at(-1)?.number ?? 0) + 1;
  const blank = useBlank(calibration, pointMl, earlier, way);
  const begun = begunHere(mine.filter((one) => one.state === 'typed' && isAtPoint(pointMl, one)));
  const takenOver = takenOverFrom(earlier);
  const entry = begun ? { ...begun, typed: followCarried(begun.typed, takenOver) } : blank;
  const [asked, setAsked] = useState<Asked>(NOTHING_ASKED);
  const read = useMemo(() => readEntry(entry), [entry.typed, entry.pointMl]);
  const live = useMemo(
    () => (read.body === null ? NOTHING_LIVE : liveTrial(record, withAnswers(read.body, asked), number, row)),
    [read.body, record, number, row, asked],
  );
  const type = (changes: Partial<TypedTrial>): void => {
    setAsked((before) => withoutFields(before, Object.keys(changes)));
    // A temperature typed here is this trial's own, whatever a round had carried over.
    noteTypedHere(entry.id);
    const own = changes.waterTemperatureC === undefined ? {} : { isCarried: false };
    void outbox.type({ ...entry, typed: { ...entry.typed, ...changes, ...own } });
  };
  return {
    entry,
    body: read.body,
    number,
    live,
    pending,
    onTheWay,
    asked,
    setAsked,
    type,
    takenOver,
    isTouched: begun !== undefined,
    setSource: (source: EmptySource) => type(withEmptySource(entry.typed, source, takenOver)),
    /** Takes a refused entry back into the fields, with what was said about it. */
    takeBack: (failed: OutboxEntry): void => {
      const fields = failed.problem?.fields ?? [];
      setAsked({
        ...NOTHING_ASKED,
        problems: Object.fromEntries(fields.filter((one) => !one.confirm).map(({ field, detail }) => [field, detail])),
        questions: fields.filter((one) => one.confirm),
      });
      void outbox.type(failed);
    },
    /** Saves a complete trial. @returns the first field that stands in the way, null when it is on its way */
    save: (): string | null => {
      const problems = read.body
        ? Object.fromEntries(live.refusals.map(({ field, detail }) => [field, detail]))
        : read.problems;
      const inTheWay = Object.keys(problems)[0] ?? live.questions[0]?.field;
      if (read.body === null || inTheWay !== undefined) {
        setAsked((before) => ({ ...before, problems, questions: live.questions }));
        return inTheWay ?? 'emptyG';
      }
      void outbox.queue(entry, withAnswers(read.body, asked));
      setAsked(NOTHING_ASKED);
      return null;
    },
  };
}
export type Entry = ReturnType<typeof useEntry>;
