import { useRef, useState } from 'react';
import type { ClassTrialBody, GroupPage } from '../../../server/experiments/contract-class.ts';
import { benchText, entryText as words } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Tick } from '../../parts/field.tsx';
import { readNumber } from '../../parts/read-number.ts';
import type { Read } from '../../parts/reading-handlers.ts';
import { ReadingInput } from '../../parts/reading-input.tsx';
import { decimalsOf, fixed } from '../../parts/rounding.ts';
import { VesselChoice } from '../../parts/vessel-choice.tsx';
import { TAG_UNKNOWN, vesselIn } from '../../parts/vessel-chosen.ts';
import { type Asked, BLANK, type FieldNotes, NOTHING_ASKED, type Typed } from './memory.ts';
import type { Step } from './step.ts';
import type { Group } from './use-group.ts';

type FieldName = 'emptyG' | 'filledG' | 'waterTemperatureC';
const UNITS: Record<FieldName, string> = { emptyG: 'g', filledG: 'g', waterTemperatureC: '°C' };
/** Any reading, to show how many digits a balance displays. */
const EXAMPLE_G = 61.2;

/** Body of a complete trial, or the fields that cannot be read. An empty temperature is one assumed for all. */
function readTrial({ key, vessels }: Step['row'], typed: Typed, assumedC: string | undefined) {
  const problems: FieldNotes = {};
  const value = (field: FieldName): string => {
    const read = readNumber(typed[field], UNITS[field]);
    if (!read.ok) problems[field] = read.problem;
    return read.ok ? read.value : '';
  };
  const isWaterLeft = typed.waterTemperatureC.trim() === '';
  const { problem, ...vessel } = vesselIn(vessels, typed.vesselId);
  if (problem !== undefined) problems.vesselId = problem;
  const body: ClassTrialBody = { row: key, emptyG: value('emptyG'), filledG: value('filledG'), ...vessel };
  if (!isWaterLeft) body.waterTemperatureC = value('waterTemperatureC');
  else if (assumedC === undefined) problems.waterTemperatureC = words.waterMissing;
  return Object.keys(problems).length > 0 ? { body: null, problems } : { body, problems };
}

/** The trial being typed, what stands in its way, and how it is saved. */
function useTrialEntry({ memory, link, kept, isFromPaper }: Group, page: GroupPage, { row, trials }: Step) {
  const assumedC = row.waterTemperatureC ?? page.experiment.conditions.waterTemperatureC;
  // Nothing is asked twice: water and vessel of the row are as in its trial before.
  const before = trials.at(-1);
  const blank: Typed = {
    ...BLANK,
    waterTemperatureC: before?.waterTemperatureC ?? '',
    vesselId: before ? (before.vesselId ?? TAG_UNKNOWN) : '',
  };
  const typed = kept.drafts[row.key] ?? blank;
  const [asked, setAsked] = useState<Asked>(NOTHING_ASKED);
  const [notes, setNotes] = useState<FieldNotes>({});
  const [isBusy, setIsBusy] = useState(false);
  const [said, setSaid] = useState('');
  const type = (changes: Partial<Typed>) => {
    setAsked(NOTHING_ASKED);
    setNotes((before) => Object.fromEntries(Object.entries(before).filter(([field]) => !(field in changes))));
    memory.type(row.key, { ...typed, ...changes });
  };
  const refuse = (refused: Asked): string => {
    setAsked(refused);
    return Object.keys(refused.problems)[0] ?? refused.questions[0]?.field ?? 'emptyG';
  };
  /** @returns the field that stands in the way; null once the trial is saved or kept */
  const save = async (): Promise<string | null> => {
    const { body, problems } = readTrial(row, typed, assumedC);
    if (body === null) return refuse({ ...NOTHING_ASKED, problems });
    const confirm = asked.questions.flatMap(({ confirm: name }) => (asked.confirmed.includes(name) ? [name] : []));
    setIsBusy(true);
    const whole = {
      ...body,
      ...(isFromPaper ? { fromPaper: true } : {}),
      ...(confirm.length > 0 ? { confirm: confirm as ClassTrialBody['confirm'] } : {}),
    };
    const outcome = await link.save({ kind: 'trial', row: row.key, body: whole }, confirm);
    setIsBusy(false);
    if (outcome.kind === 'refused') return refuse(outcome.asked);
    setAsked(NOTHING_ASKED);
    setNotes({});
    const { trial } = outcome.kind === 'saved' ? outcome : { trial: null };
    setSaid(
      trial ? words.saved(trial.number, fixed(trial.volumeMl, Math.max(1, decimalsOf(trial.filledG)))) : words.kept,
    );
    return null;
  };
  return { assumedC, typed, type, asked, setAsked, notes, setNotes, isBusy, said, save };
}
type TrialFields = ReturnType<typeof useTrialEntry>;

interface TrialEntryProps {
  group: Group;
  page: GroupPage;
  step: Step;
}

/** Empty, filled, water: Enter goes on, Enter in the last saves. The server's questions stand at their field. */
export function TrialEntry({ group, page, step }: TrialEntryProps) {
  const [isMore, setIsMore] = useState(false);
  const fields = useTrialEntry(group, page, step);
  const { row, trials, waiting, isDone } = step;
  const number = trials.length + waiting.filter(({ kind }) => kind === 'trial').length + 1;
  const isBegun = group.kept.drafts[row.key] !== undefined || fields.isBusy;
  return (
    <>
      <p role="status" className="class-said">
        {fields.said === words.kept && !waiting.some(({ kind }) => kind === 'trial') ? '' : fields.said}
      </p>
      {isDone && !isMore && !isBegun ? (
        <div className="row">
          <p>{words.planned(row.trialsPerGroup)}</p>
          <Button look="quiet" bench onClick={() => setIsMore(true)}>
            {words.more}
          </Button>
        </div>
      ) : (
        <EntryFields fields={fields} number={number} step={step} page={page} />
      )}
    </>
  );
}

function EntryFields({
  fields,
  number,
  step,
  page,
}: Omit<TrialEntryProps, 'group'> & { fields: TrialFields; number: number }) {
  const inputs = {
    emptyG: useRef<HTMLInputElement>(null),
    filledG: useRef<HTMLInputElement>(null),
    waterTemperatureC: useRef<HTMLInputElement>(null),
  };
  const { typed, asked, notes, assumedC, isBusy } = fields;
  const { empty, filled } = benchText.basis[step.row.basis];
  const save = async () => {
    const inTheWay = await fields.save();
    document.getElementById(inTheWay ?? 'emptyG')?.focus();
  };
  const reading = (name: FieldName, onEnter: () => void) => ({
    ...{ name, onEnter, unit: UNITS[name], value: typed[name], problem: asked.problems[name], note: notes[name] },
    ...{ isReadOnly: isBusy, ref: inputs[name] },
    onChange: (value: string) => fields.type({ [name]: value }),
    onRead: (read: Read, text: string) => showRead(fields, name, read, text),
  });
  return (
    <section className="class-entry" aria-label={words.title(number)}>
      <h3>{words.title(number)}</h3>
      <VesselChoice
        vessels={step.row.vessels}
        value={typed.vesselId}
        problem={asked.problems.vesselId}
        onChange={(vesselId) => fields.type({ vesselId })}
      />
      <ReadingInput {...reading('emptyG', () => inputs.filledG.current?.focus())} label={empty} signed />
      <ReadingInput {...reading('filledG', () => inputs.waterTemperatureC.current?.focus())} label={filled} signed />
      <Swap fields={fields} />
      <Questions fields={fields} />
      <p className="field-help">{digitsWords(page)}</p>
      <ReadingInput
        {...reading('waterTemperatureC', () => void save())}
        label={words.water}
        note={notes.waterTemperatureC ?? (assumedC === undefined ? undefined : words.waterAssumed(assumedC))}
      />
      {asked.problems.whole && (
        <p className="field-problem" role="alert">
          {asked.problems.whole}
        </p>
      )}
      <Button look="primary" bench disabled={isBusy} onClick={() => void save()}>
        {isBusy ? words.saving : words.save(number)}
      </Button>
    </section>
  );
}

/** What a balance sent is shown as the number it is; what cannot be read says why. */
function showRead({ type, setAsked, setNotes }: TrialFields, field: FieldName, read: Read, text: string): void {
  if ('problem' in read)
    return setAsked((before) => ({ ...before, problems: { ...before.problems, [field]: read.problem } }));
  if (/^[\s\d.,+\-−]*$/.test(text) && read.note === null) return;
  type({ [field]: read.value });
  setNotes((before) => ({ ...before, [field]: read.note ?? undefined }));
}

/** Filled lighter than empty is nearly always the two swapped. */
function Swap({ fields: { typed, asked, type } }: { fields: TrialFields }) {
  const empty = readNumber(typed.emptyG, 'g');
  const filled = readNumber(typed.filledG, 'g');
  const isLighter = empty.ok && filled.ok && Number(filled.value) < Number(empty.value);
  if (!isLighter || (asked.problems.filledG === undefined && asked.problems.emptyG === undefined)) return null;
  return (
    <Button bench onClick={() => type({ emptyG: typed.filledG, filledG: typed.emptyG })}>
      {words.swap}
    </Button>
  );
}

/** A possible but unusual value is kept with a yes. */
function Questions({ fields: { asked, setAsked } }: { fields: TrialFields }) {
  if (asked.questions.length === 0) return null;
  return (
    <div className="question" role="alert">
      {asked.questions.map(({ confirm, detail }) => (
        <div key={confirm}>
          <p>{detail}</p>
          <Tick
            name={`confirm-${confirm}`}
            label={words.really}
            checked={asked.confirmed.includes(confirm)}
            onChange={(yes) =>
              setAsked((before) => ({
                ...before,
                confirmed: yes ? [...before.confirmed, confirm] : before.confirmed.filter((one) => one !== confirm),
              }))
            }
          />
        </div>
      ))}
    </div>
  );
}

const digitsWords = ({ experiment }: GroupPage): string => {
  const shown = new Set(
    experiment.balances.flatMap(({ resolutionG }) =>
      resolutionG === undefined ? [] : [fixed(EXAMPLE_G, decimalsOf(resolutionG))],
    ),
  );
  return words.digits([...(shown.size > 0 ? shown : [fixed(EXAMPLE_G, 2)])].join(' or '));
};
