import { MATERIALS, VESSEL_KINDS } from '../../../server/metrology/record.ts';
import { text } from '../../messages/en.ts';
import { vesselFormText } from '../../messages/en-glassware.ts';
import { Choice, Field, Select, TextArea, Tick } from '../../parts/field.tsx';
import { KindMark } from '../../parts/kind-mark.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { hasDetail, usualBasis, type VesselDraft } from './draft.ts';
import { TolerancePicker } from './tolerance-picker.tsx';
import './form.css';

const MATERIAL_OPTIONS = MATERIALS.map((material) => ({ value: material, label: text.words.materials[material] }));
const words = vesselFormText;

export interface VesselFormProps {
  draft: VesselDraft;
  onChange: (changes: Partial<VesselDraft>) => void;
  submission: Submission;
  /** Only a vessel that exists can be taken out of use. */
  isCorrection?: boolean;
}

/** Fields of a vessel: the kind first, then only what this kind has. */
export function VesselFields({ draft, onChange, submission, isCorrection = false }: VesselFormProps) {
  return (
    <div className="stack wide-gaps">
      <KindChoice draft={draft} onChange={onChange} problem={submission.problemAt('kind')} />
      {draft.kind !== '' && (
        <>
          <MainFields draft={draft} onChange={onChange} submission={submission} />
          <fieldset className="stack">
            <legend className="form-part">{words.toleranceTitle}</legend>
            <TolerancePicker draft={draft} onChange={onChange} submission={submission} />
          </fieldset>
          <IdentityFields draft={draft} onChange={onChange} submission={submission} isCorrection={isCorrection} />
        </>
      )}
    </div>
  );
}

interface KindChoiceProps extends Pick<VesselFormProps, 'draft' | 'onChange'> {
  problem: string | undefined;
}

export function KindChoice({ draft, onChange, problem }: KindChoiceProps) {
  return (
    <fieldset className="field">
      <legend className="field-label">{words.kind}</legend>
      <div className="kind-choice">
        {VESSEL_KINDS.map((kind, index) => (
          <label key={kind} className="kind-tile">
            <input
              type="radio"
              name="kind"
              id={index === 0 ? 'kind' : `kind-${kind}`}
              value={kind}
              checked={draft.kind === kind}
              onChange={() => onChange({ kind, basis: usualBasis(kind), standard: '', class: '' })}
            />
            <KindMark kind={kind} />
            <span>{text.words.vesselKinds[kind]}</span>
          </label>
        ))}
      </div>
      {problem && <p className="field-problem">{problem}</p>}
    </fieldset>
  );
}

/** Size, basis, details of the kind, material; `isLot`: of many pieces, whose tags stand elsewhere. */
export function MainFields({ draft, onChange, submission, isLot = false }: VesselFormProps & { isLot?: boolean }) {
  const quantity = (name: 'nominalVolumeMl' | 'divisionMl' | 'neckDiameterMm' | 'waitingTimeS') => ({
    name,
    number: true,
    value: draft[name],
    problem: submission.problemAt(name),
    onChange: (value: string) => onChange({ [name]: value }),
  });
  return (
    <div className="stack">
      <div className="field-pair">
        {!isLot && (
          <Field
            name="tag"
            label={words.tag}
            help={words.tagHelp}
            value={draft.tag}
            problem={submission.problemAt('tag')}
            onChange={(tag) => onChange({ tag })}
          />
        )}
        <Field {...quantity('nominalVolumeMl')} label={words.nominal} unit="mL" />
      </div>
      <Choice
        name="basis"
        label={words.basis}
        help={words.basisHelp}
        value={draft.basis}
        options={[
          { value: 'contain', label: text.words.bases.contain },
          { value: 'deliver', label: text.words.bases.deliver },
        ]}
        problem={submission.problemAt('basis')}
        onChange={(basis) => onChange({ basis })}
      />
      <div className="field-pair">
        {hasDetail(draft.kind, 'divisionMl') && (
          <Field {...quantity('divisionMl')} label={words.division} help={words.divisionHelp} unit="mL" optional />
        )}
        {hasDetail(draft.kind, 'waitingTimeS') && (
          <Field {...quantity('waitingTimeS')} label={words.waiting} help={words.waitingHelp} unit="s" optional />
        )}
        {hasDetail(draft.kind, 'neckDiameterMm') && (
          <Field {...quantity('neckDiameterMm')} label={words.neck} help={words.neckHelp} unit="mm" optional />
        )}
      </div>
      {hasDetail(draft.kind, 'marks') && (
        <Field
          name="marks"
          label={words.marks}
          help={words.marksHelp}
          unit="mL"
          optional
          value={draft.marks}
          problem={submission.problemAt('marks')}
          onChange={(marks) => onChange({ marks })}
        />
      )}
      <DeliveringFields draft={draft} onChange={onChange} submission={submission} />
      <MaterialFields draft={draft} onChange={onChange} submission={submission} />
    </div>
  );
}

/** How many channels a piston pipette has; whether the last drop of a pipette counts. */
function DeliveringFields({ draft, onChange, submission }: VesselFormProps) {
  const choices = words.blowOutChoices;
  return (
    <>
      {hasDetail(draft.kind, 'channels') && (
        <Field
          name="channels"
          label={words.channels}
          help={words.channelsHelp}
          inputMode="numeric"
          width="short"
          optional
          value={draft.channels}
          problem={submission.problemAt('channels')}
          onChange={(channels) => onChange({ channels })}
        />
      )}
      {hasDetail(draft.kind, 'blowOut') && (
        <Choice
          name="blowOut"
          label={words.blowOut}
          help={words.blowOutHelp}
          value={draft.blowOut === '' ? 'unknown' : draft.blowOut}
          options={[
            { value: 'unknown', label: choices.unknown },
            { value: 'no', label: choices.no },
            { value: 'yes', label: choices.yes },
          ]}
          problem={submission.problemAt('blowOut')}
          onChange={(chosen) => onChange({ blowOut: chosen === 'unknown' ? '' : chosen })}
        />
      )}
    </>
  );
}

function MaterialFields({ draft, onChange, submission }: VesselFormProps) {
  const isOther = draft.material === 'other';
  return (
    <div className="field-pair">
      <Select
        name="material"
        label={words.material}
        value={draft.material}
        options={MATERIAL_OPTIONS}
        problem={submission.problemAt('material')}
        onChange={(material) => material && onChange({ material })}
      />
      <Choice
        name="referenceTemperatureC"
        label={words.referenceTemperature}
        value={draft.referenceTemperatureC}
        options={[
          { value: '20', label: '20 °C' },
          { value: '27', label: '27 °C' },
        ]}
        onChange={(referenceTemperatureC) => onChange({ referenceTemperatureC })}
      />
      {isOther && <Expansion draft={draft} onChange={onChange} submission={submission} />}
    </div>
  );
}

function Expansion({ draft, onChange, submission }: VesselFormProps) {
  const isOther = draft.material === 'other';
  return (
    <Field
      name="expansionPerK"
      label={words.expansion}
      help={isOther ? words.expansionOther : words.expansionHelp}
      unit="/K"
      number
      optional={!isOther}
      value={draft.expansionPerK}
      problem={submission.problemAt('expansionPerK')}
      onChange={(expansionPerK) => onChange({ expansionPerK })}
    />
  );
}

/** How long a calibration of this one vessel lasts, where that is not what the laboratory has set. */
function IntervalFields({ draft, onChange, submission }: VesselFormProps) {
  return (
    <div className="field-pair">
      <Field
        name="intervalMonths"
        label={words.interval}
        help={words.intervalHelp}
        unit={words.intervalUnit}
        inputMode="numeric"
        optional
        value={draft.intervalMonths}
        problem={submission.problemAt('intervalMonths')}
        onChange={(intervalMonths) => onChange({ intervalMonths })}
      />
      <Field
        name="intervalReason"
        label={words.intervalReason}
        help={words.intervalReasonHelp}
        optional={draft.intervalMonths.trim() === ''}
        value={draft.intervalReason}
        problem={submission.problemAt('intervalReason')}
        onChange={(intervalReason) => onChange({ intervalReason })}
      />
    </div>
  );
}

function IdentityFields({ draft, onChange, submission, isCorrection = false }: VesselFormProps) {
  const plain = (name: 'serial' | 'maker' | 'location' | 'acquiredOn', label: string) => (
    <Field
      name={name}
      label={label}
      optional
      value={draft[name]}
      problem={submission.problemAt(name)}
      onChange={(value) => onChange({ [name]: value })}
      {...(name === 'acquiredOn' ? { help: words.acquiredHelp } : {})}
    />
  );
  const hasMore = ['expansionPerK', 'expectedSpreadMl', 'intervalMonths', 'intervalReason'].some(
    (field) => submission.problemAt(field) !== undefined,
  );
  return (
    <>
      <div className="field-pair">
        {plain('location', words.place)}
        {plain('serial', words.serial)}
      </div>
      <details className="unfold" open={hasMore || undefined}>
        <summary>{words.more}</summary>
        <div className="stack">
          <div className="field-pair">
            {plain('maker', words.maker)}
            {plain('acquiredOn', words.acquired)}
          </div>
          <div className="field-pair">
            <Field
              name="expectedSpreadMl"
              label={words.spread}
              help={words.spreadHelp}
              unit="mL"
              number
              optional
              value={draft.expectedSpreadMl}
              problem={submission.problemAt('expectedSpreadMl')}
              onChange={(expectedSpreadMl) => onChange({ expectedSpreadMl })}
            />
            {draft.material !== 'other' && <Expansion draft={draft} onChange={onChange} submission={submission} />}
          </div>
          <IntervalFields draft={draft} onChange={onChange} submission={submission} />
          <TextArea
            name="note"
            label={words.note}
            optional
            value={draft.note}
            problem={submission.problemAt('note')}
            onChange={(note) => onChange({ note })}
          />
        </div>
      </details>
      {isCorrection && (
        <Tick name="inUse" label={words.inUse} checked={draft.inUse} onChange={(inUse) => onChange({ inUse })} />
      )}
    </>
  );
}
