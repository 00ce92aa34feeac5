import { solutionFormText as words } from '../../messages/en-solutions.ts';
import { Field, Select, Tick } from '../../parts/field.tsx';
import { useInstruments } from '../../queries.ts';
import type { TemperatureDraft, WeighingDraft } from './setting-draft.ts';

interface PartProps<D> {
  draft: D;
  problemAt: (field: string) => string | undefined;
  onChange: (changes: Partial<D>) => void;
}

type FilledAt = Pick<TemperatureDraft, 'temperatureC' | 'temperatureHalfWidthC'>;

interface FilledProps extends PartProps<FilledAt> {
  /** Place in the body, with its stroke, or nothing. */
  at: string;
  /** When it is read. */
  help?: string;
}

export function TemperatureFields({ at, draft, problemAt, onChange, help = words.temperatureHelp }: FilledProps) {
  return (
    <div className="field-pair">
      <Field
        name={`${at}temperatureC`}
        {...{ label: words.temperature, help, unit: '°C', number: true }}
        value={draft.temperatureC}
        problem={problemAt(`${at}temperatureC`)}
        onChange={(temperatureC) => onChange({ temperatureC })}
      />
      <Field
        name={`${at}temperatureHalfWidthC`}
        {...{ label: words.halfWidth, unit: '°C', number: true }}
        value={draft.temperatureHalfWidthC}
        problem={problemAt(`${at}temperatureHalfWidthC`)}
        onChange={(temperatureHalfWidthC) => onChange({ temperatureHalfWidthC })}
      />
    </div>
  );
}

export function QuotedFields({ at, draft, problemAt, onChange }: PartProps<TemperatureDraft> & { at: string }) {
  return (
    <div className="field-pair">
      <Field
        name={`${at}quotedAtC`}
        {...{ label: words.quotedAt, help: words.quotedHelp, unit: '°C', number: true }}
        value={draft.quotedAtC}
        problem={problemAt(`${at}quotedAtC`)}
        onChange={(quotedAtC) => onChange({ quotedAtC })}
      />
      <Field
        name={`${at}expansionPerK`}
        {...{ label: words.expansion, help: words.expansionHelp, unit: '/K', number: true, optional: true }}
        value={draft.expansionPerK}
        problem={problemAt(`${at}expansionPerK`)}
        onChange={(expansionPerK) => onChange({ expansionPerK })}
      />
    </div>
  );
}

/** The balances in use, by their tags. */
export function BalanceField({ draft, problemAt, onChange }: PartProps<WeighingDraft>) {
  const instruments = useInstruments();
  const balances = (instruments.data?.items ?? []).filter((one) => one.inUse && one.kind === 'balance');
  return (
    <div className="stack tight">
      <Select
        name="balanceId"
        label={words.balance}
        value={draft.balanceId}
        none={words.balanceNone}
        options={balances.map(({ id, tag, maker, model }) => ({
          value: id,
          label: [tag, maker, model].filter(Boolean).join(' '),
        }))}
        problem={problemAt('balanceId')}
        onChange={(balanceId) => onChange({ balanceId })}
      />
      {draft.balanceId !== '' && (
        <Tick
          name="adjustedToday"
          label={words.adjustedToday}
          checked={draft.adjustedToday}
          onChange={(adjustedToday) => onChange({ adjustedToday })}
        />
      )}
    </div>
  );
}

export function AirFields({ draft, problemAt, onChange }: PartProps<WeighingDraft>) {
  const field = (name: 'airTemperatureC' | 'airPressureHpa' | 'relativeHumidityPercent') => ({
    name: `air/${name}`,
    number: true,
    optional: true,
    value: draft[name],
    problem: problemAt(`air/${name}`),
    onChange: (value: string) => onChange({ [name]: value }),
  });
  return (
    <fieldset className="stack tight">
      <legend className="field-label">{words.airTitle}</legend>
      <p className="field-help">{words.airHelp}</p>
      <div className="field-pair">
        <Field {...field('airTemperatureC')} label={words.airTemperature} unit="°C" />
        <Field {...field('airPressureHpa')} label={words.airPressure} unit="hPa" />
        <Field {...field('relativeHumidityPercent')} label={words.humidity} unit="%" />
      </div>
      <Tick
        name="buoyancy"
        label={words.buoyancyOff}
        help={words.buoyancyOffHelp}
        checked={draft.buoyancyOff}
        onChange={(buoyancyOff) => onChange({ buoyancyOff })}
      />
    </fieldset>
  );
}

interface AccuracyProps {
  value: string;
  problemAt: (field: string) => string | undefined;
  onChange: (typed: string) => void;
}

export function AccuracyField({ value, problemAt, onChange }: AccuracyProps) {
  return (
    <Field
      {...{ name: 'accuracyPercent', label: words.accuracy, help: words.accuracyHelp, unit: '%' }}
      {...{ number: true, optional: true, value, onChange }}
      problem={problemAt('accuracyPercent')}
    />
  );
}
