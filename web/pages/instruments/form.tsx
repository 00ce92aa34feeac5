import type { ReactNode } from 'react';
import { text } from '../../messages/en.ts';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { Choice, Field, TextArea, Tick } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { CorrectionsField } from './corrections.tsx';
import {
  COVERED,
  FIELDS,
  KINDS,
  partsPerMillion,
  READING_UNITS,
  UNITS,
  type Covered,
  type InstrumentDraft,
  type QuantityField,
  type TextField,
} from './draft.ts';

const words = instrumentsText.form;

export interface InstrumentFormProps {
  draft: InstrumentDraft;
  onChange: (changes: Partial<InstrumentDraft>) => void;
  submission: Submission;
  /** Of an instrument that is registered already; then the kind stays. */
  isChange?: boolean;
}

/** Fields of an instrument: what it is, what it shows, what the certificate says, its corrections. */
export function InstrumentFields({ draft, onChange, submission, isChange = false }: InstrumentFormProps) {
  const { display, behaviour, certificate } = FIELDS[draft.kind];
  const form = { draft, onChange, submission };
  return (
    <div className="stack wide-gaps">
      <Part title={words.identity}>
        {isChange ? <p className="quiet">{words.kindStays}</p> : <KindChoice {...form} />}
        <div className="field-pair">
          <Words {...form} field="tag" />
          <Words {...form} field="location" />
        </div>
        <div className="field-pair">
          <Words {...form} field="maker" />
          <Words {...form} field="model" />
          <Words {...form} field="serial" />
        </div>
      </Part>
      {display.length > 0 && (
        <Part title={words.display}>
          <Quantities {...form} fields={display} />
        </Part>
      )}
      {behaviour.length > 0 && (
        <Part title={words.behaviour} help={words.behaviourHelp}>
          <Quantities {...form} fields={behaviour} />
        </Part>
      )}
      <Part title={words.certificate}>
        <div className="field-pair">
          <Words {...form} field="certificateNumber" />
          <Words {...form} field="certificateOn" help={words.day} />
          <Words {...form} field="dueOn" />
        </div>
        <Quantities {...form} fields={certificate}>
          <DegreesOfFreedom {...form} />
        </Quantities>
        {draft.kind === 'balance' && <Covers {...form} />}
      </Part>
      <Part title={words.corrections} help={instrumentsText.corrections.help}>
        <CorrectionsField
          rows={draft.corrections}
          unit={READING_UNITS[draft.kind]}
          onChange={(corrections) => onChange({ corrections })}
          submission={submission}
        />
        <p className="field-help">{instrumentsText.corrections.signHint}</p>
      </Part>
      <TextArea
        name="note"
        label={instrumentsText.fields.note}
        optional
        value={draft.texts.note ?? ''}
        problem={submission.problemAt('note')}
        onChange={(note) => onChange({ texts: { ...draft.texts, note } })}
      />
    </div>
  );
}

function Part({ title, help, children }: { title: string; help?: string; children: ReactNode }) {
  return (
    <fieldset className="stack">
      <legend className="form-part">{title}</legend>
      {help && <p className="field-help">{help}</p>}
      {children}
    </fieldset>
  );
}

type Form = Pick<InstrumentFormProps, 'draft' | 'onChange' | 'submission'>;

const HELP: Partial<Record<string, string>> = instrumentsText.help;

function Words({ draft, onChange, submission, field, help }: Form & { field: TextField; help?: string }) {
  const shownHelp = help ?? HELP[field];
  return (
    <Field
      name={field}
      label={instrumentsText.fields[field]}
      {...(shownHelp ? { help: shownHelp } : {})}
      optional={field !== 'tag'}
      value={draft.texts[field] ?? ''}
      problem={submission.problemAt(field)}
      onChange={(value) => onChange({ texts: { ...draft.texts, [field]: value } })}
    />
  );
}

interface QuantitiesProps extends Form {
  fields: readonly QuantityField[];
  children?: ReactNode;
}

function Quantities({ fields, children, ...form }: QuantitiesProps) {
  return (
    <div className="field-pair">
      {fields.map((field) => (
        <QuantityOf key={field} {...form} field={field} />
      ))}
      {children}
    </div>
  );
}

function QuantityOf({ draft, onChange, submission, field }: Form & { field: QuantityField }) {
  const typed = draft.texts[field] ?? '';
  // Small shares are easily typed ten times too large; in parts in a million they can be compared with the paper.
  const shown = partsPerMillion(field, typed);
  const help = shown === null ? HELP[field] : words.ppm(shown);
  return (
    <Field
      name={field}
      label={instrumentsText.fields[field]}
      {...(help ? { help } : {})}
      {...(UNITS[field] ? { unit: UNITS[field] } : {})}
      optional
      number
      value={typed}
      problem={submission.problemAt(field)}
      onChange={(value) => onChange({ texts: { ...draft.texts, [field]: value } })}
    />
  );
}

function DegreesOfFreedom({ draft, onChange, submission }: Form) {
  return (
    <Field
      name="degreesOfFreedom"
      label={instrumentsText.fields.degreesOfFreedom}
      help={instrumentsText.help.degreesOfFreedom}
      optional
      inputMode="numeric"
      width="short"
      value={draft.texts.degreesOfFreedom ?? ''}
      problem={submission.problemAt('degreesOfFreedom')}
      onChange={(value) => onChange({ texts: { ...draft.texts, degreesOfFreedom: value } })}
    />
  );
}

const KIND_OPTIONS = KINDS.map((kind) => ({ value: kind, label: text.words.instrumentKinds[kind] }));

function KindChoice({ draft, onChange, submission }: Form) {
  return (
    <Choice
      name="kind"
      label={words.kind}
      value={draft.kind}
      options={KIND_OPTIONS}
      help={instrumentsText.kinds[draft.kind].about}
      problem={submission.problemAt('kind')}
      onChange={(kind) => onChange({ kind })}
    />
  );
}

function Covers({ draft, onChange }: Form) {
  const turn = (one: Covered, isOn: boolean) =>
    onChange({ covers: COVERED.filter((covered) => (covered === one ? isOn : draft.covers.includes(covered))) });
  return (
    <fieldset className="field">
      <legend className="field-label">
        {instrumentsText.fields.certificateCovers} <span className="field-optional">{text.form.optional}</span>
      </legend>
      {COVERED.map((one) => (
        <Tick
          key={one}
          name={`certificateCovers-${one}`}
          label={instrumentsText.covers[one]}
          checked={draft.covers.includes(one)}
          onChange={(isOn) => turn(one, isOn)}
        />
      ))}
      <p className="field-help">{instrumentsText.help.certificateCovers}</p>
    </fieldset>
  );
}
