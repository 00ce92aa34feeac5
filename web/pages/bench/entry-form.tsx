import { type Ref, Suspense, useRef } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance-row.ts';
import { text } from '../../messages/en.ts';
import { entryText } from '../../messages/en-bench.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import { Button } from '../../parts/button.tsx';
import { Field, Tick } from '../../parts/field.tsx';
import { later } from '../../parts/later.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import type { Read } from '../../parts/reading-handlers.ts';
import { ReadingInput } from '../../parts/reading-input.tsx';
import { decimalsOf, fixed } from '../../parts/rounding.ts';
import { type EntryField, UNITS } from './entry.ts';
import { EntryMore } from './entry-more.tsx';
import type { Receiver } from './receiver.ts';
import { ReceiverChoice } from './receiver-choice.tsx';
import { focusNextSheet } from './next-sheet.tsx';
import type { Entry } from './use-entry.ts';

const Delivery = later(() => import('./delivery.tsx'));
const words = entryText;

interface EntryFormProps {
  calibration: Calibration;
  entry: Entry;
  /** Planned trials are reached: a further one needs a reason. */
  isBeyondPlan: boolean;
  row: ToleranceRow | null;
  /** How the receiver is weighed; null for a vessel that is itself filled and weighed. */
  receiver: Receiver | null;
  onReceiver: (changes: Partial<Receiver>) => void;
}

/** Empty, filled, water: Enter goes on, Enter in the last saves. The volume stands beside them before it is saved. */
export function EntryForm(props: EntryFormProps) {
  const { calibration, entry, isBeyondPlan, receiver, onReceiver } = props;
  const inputs: Record<EntryField, Ref<HTMLInputElement> & { current: HTMLInputElement | null }> = {
    emptyG: useRef<HTMLInputElement>(null),
    filledG: useRef<HTMLInputElement>(null),
    waterTemperatureC: useRef<HTMLInputElement>(null),
  };
  const { typed } = entry.entry;
  const isTaken = typed.emptySource !== 'own';
  const focusFirst = () => inputs[isTaken ? 'filledG' : 'emptyG'].current?.focus();
  const names = receiver === null ? { before: words.empty, after: words.filled } : deliveryText;
  const focusNext = () => inputs[typed.emptyG.trim() === '' && !isTaken ? 'emptyG' : 'filledG'].current?.focus();
  const save = () => {
    const inTheWay = entry.save();
    if (inTheWay === null) (isSheetDone(calibration, entry.number) ? focusNextSheet : focusFirst)();
    else document.getElementById(inTheWay)?.focus();
  };
  // The times of a sheet stand behind the water.
  const isTimed = calibration.origin === 'sheet' && receiver !== null && calibration.vessel.kind !== 'piston-pipette';
  const afterWater = () => (isTimed ? document.getElementById('deliveryTimeS')?.focus() : save());
  const reading = (field: EntryField, onEnter: () => void) => ({
    name: field,
    unit: UNITS[field],
    value: typed[field],
    problem: entry.asked.problems[field],
    note: entry.asked.notes[field],
    ref: inputs[field],
    onEnter,
    onChange: (value: string) => entry.type({ [field]: value }),
    onRead: (read: Read, typed: string) => showRead(entry, field, read, typed),
  });
  return (
    <section className="entry" aria-label={words.form(entry.number)}>
      {receiver !== null && (
        <ReceiverChoice calibration={calibration} entry={entry} receiver={receiver} onChange={onReceiver} />
      )}
      <div className="entry-line">
        <p className="entry-number" aria-hidden="true">
          {entry.number}
        </p>
        <ReadingInput
          {...reading('emptyG', () => inputs.filledG.current?.focus())}
          label={names.before}
          isReadOnly={isTaken}
          signed
          {...(isTaken ? { note: words.emptyTaken } : {})}
        />
        <ReadingInput
          {...reading('filledG', () => inputs.waterTemperatureC.current?.focus())}
          label={names.after}
          signed
        />
        <ReadingInput {...reading('waterTemperatureC', afterWater)} label={words.water} />
        <LiveVolume entry={entry} />
        <Button look="primary" bench className="entry-save" onClick={save}>
          {words.save(entry.number)}
        </Button>
      </div>
      <Swap entry={entry} />
      <TrialQuestions entry={entry} />
      {receiver !== null && (
        <DeliveryPart {...props} onTimed={focusNext} {...(isTimed ? { onTimesTyped: save } : {})} />
      )}
      {isBeyondPlan && <BeyondPlan entry={entry} />}
      <EntryMore calibration={calibration} entry={entry} isBeyondPlan={isBeyondPlan} />
    </section>
  );
}

/** The trial of this number was the last one the sheet has room for. */
function isSheetDone({ origin, plannedPoints, plannedTrials, trials }: Calibration, number: number): boolean {
  const excluded = trials.filter(({ exclusion }) => exclusion !== null).length;
  return origin === 'sheet' && number >= plannedPoints.length * plannedTrials + excluded;
}

interface DeliveryPartProps extends EntryFormProps {
  onTimed: () => void;
  onTimesTyped?: () => void;
}

function DeliveryPart({ calibration, entry, row, onTimed, onTimesTyped }: DeliveryPartProps) {
  return (
    <Suspense fallback={null}>
      <Delivery {...{ calibration, entry, row, onTimed }} {...(onTimesTyped ? { onTimesTyped } : {})} />
    </Suspense>
  );
}

function BeyondPlan({ entry }: { entry: Entry }) {
  return (
    <Field
      name="note"
      label={words.beyondPlan}
      help={words.beyondPlanHelp}
      value={entry.entry.typed.note}
      onChange={(note) => entry.type({ note })}
    />
  );
}

/** A balance string that was taken apart is shown as the number it is; an unreadable one says why. */
function showRead(entry: Entry, field: EntryField, read: Read, typed: string): void {
  if ('problem' in read) {
    entry.setAsked((before) => ({ ...before, problems: { ...before.problems, [field]: read.problem } }));
    return;
  }
  if (/^[\s\d.,+\-−]*$/.test(typed) && read.note === null) return;
  entry.type({ [field]: read.value });
  entry.setAsked((before) => ({ ...before, notes: { ...before.notes, [field]: read.note ?? undefined } }));
}

function LiveVolume({ entry }: { entry: Entry }) {
  const { result } = entry.live;
  const decimals = Math.max(1, decimalsOf(entry.body?.filledG ?? ''));
  return (
    <div className="entry-volume">
      <span className="entry-volume-label">
        {words.volume} <span className="quiet">mL</span>
      </span>
      <output className="entry-volume-value">{result ? fixed(result.volumeMl, decimals) : '–'}</output>
      <span className="field-help">
        {result ? <Quantity value={words.simpleBeside(fixed(result.simpleVolumeMl, decimals))} /> : null}
        {!result && entry.isTouched ? words.asTyped : null}
      </span>
    </div>
  );
}

/** Filled lighter than empty is nearly always the two swapped. */
function Swap({ entry }: { entry: Entry }) {
  const { emptyG, filledG, emptySource } = entry.entry.typed;
  const isRefused =
    entry.asked.problems.filledG !== undefined && entry.live.refusals.some(({ field }) => field === 'filledG');
  if (!isRefused || emptySource !== 'own' || emptyG === filledG) return null;
  return (
    <div className="row">
      <Button bench onClick={() => entry.type({ emptyG: filledG, filledG: emptyG })}>
        {words.swap}
      </Button>
    </div>
  );
}

/** A possible but unusual value is kept with a yes and a note. */
function TrialQuestions({ entry }: { entry: Entry }) {
  const { questions, confirmed, note } = entry.asked;
  if (questions.length === 0) return null;
  const set = (changes: Partial<Entry['asked']>) => entry.setAsked((before) => ({ ...before, ...changes }));
  return (
    <div className="question" role="alert">
      {questions.map(({ confirm = '', detail }) => (
        <div key={confirm}>
          <p>{detail}</p>
          <Tick
            name={`confirm-${confirm}`}
            label={text.form.reallySo}
            checked={confirmed.includes(confirm)}
            onChange={(yes) =>
              set({ confirmed: yes ? [...confirmed, confirm] : confirmed.filter((one) => one !== confirm) })
            }
          />
        </div>
      ))}
      {confirmed.length > 0 && (
        <Field
          name="confirm-note"
          label={text.form.confirmNote}
          help={text.form.confirmNoteHelp}
          value={note}
          onChange={(value) => set({ note: value })}
        />
      )}
    </div>
  );
}
