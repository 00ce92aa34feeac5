import { type InputHTMLAttributes, type ReactNode, useId } from 'react';
import { text } from '../messages/en.ts';

/** What every control shows around itself: label above, help or refusal below. */
interface Surround {
  label: ReactNode;
  /** One line below the control; a refusal takes its place. */
  help?: ReactNode;
  /** What is wrong with what stands in the field, and what to do. */
  problem?: string | undefined;
  optional?: boolean;
}

interface FieldProps extends Surround, Omit<InputHTMLAttributes<HTMLInputElement>, 'onChange' | 'value' | 'size'> {
  /** Name of the field in the request, so that a refusal finds it: also the anchor of the error summary. */
  name: string;
  value: string;
  onChange: (value: string) => void;
  /** Quiet, behind the control. */
  unit?: string;
  /** A number: decimal keys on touch screens, digits aligned. */
  number?: boolean;
  /** A number that may be negative: a key for the sign, because some decimal keypads have none. */
  signed?: boolean;
  width?: 'short' | 'medium' | 'full';
  /** A passphrase: not shown; pasting and password managers work as everywhere. */
  secret?: boolean;
}

const MINUS_IN_FRONT = /^\s*[-−–]/;

/** Gives the typed number the other sign; anything else typed stays as it is. */
export const changeSign = (typed: string): string =>
  MINUS_IN_FRONT.test(typed) ? typed.replace(MINUS_IN_FRONT, '') : `−${typed.trimStart().replace(/^\+/, '')}`;

export function Field(props: FieldProps) {
  const { label, help, problem, optional, name, value, onChange, unit, number, signed, width, secret, ...rest } = props;
  const messageId = useId();
  const size = width ?? (number || signed ? 'short' : 'full');
  return (
    <div className="field" data-refused={problem ? '' : undefined}>
      <FieldLabel htmlFor={name} label={label} optional={optional} />
      <div className="field-line">
        <input
          autoComplete="off"
          {...rest}
          {...(number || signed ? { inputMode: 'decimal' as const } : {})}
          type={secret ? 'password' : 'text'}
          id={name}
          name={name}
          value={value}
          onChange={(event) => onChange(event.target.value)}
          className={`input input-${size}${number || signed ? ' input-number' : ''}`}
          aria-invalid={problem ? true : undefined}
          aria-describedby={problem || help ? messageId : undefined}
        />
        {unit && <span className="field-unit">{unit}</span>}
        {signed && (
          <button
            type="button"
            className="sign-key"
            aria-label={text.form.changeSign(typeof label === 'string' ? label : name)}
            onClick={() => onChange(changeSign(value))}
          >
            ±
          </button>
        )}
      </div>
      <FieldMessage id={messageId} help={help} problem={problem} />
    </div>
  );
}

interface AreaProps extends Surround {
  name: string;
  value: string;
  onChange: (value: string) => void;
  rows?: number;
}

export function TextArea({ label, help, problem, optional, name, value, onChange, rows = 3 }: AreaProps) {
  const messageId = useId();
  return (
    <div className="field" data-refused={problem ? '' : undefined}>
      <FieldLabel htmlFor={name} label={label} optional={optional} />
      <textarea
        id={name}
        name={name}
        rows={rows}
        value={value}
        onChange={(event) => onChange(event.target.value)}
        className="input input-full"
        aria-invalid={problem ? true : undefined}
        aria-describedby={problem || help ? messageId : undefined}
      />
      <FieldMessage id={messageId} help={help} problem={problem} />
    </div>
  );
}

export interface Option<V extends string = string> {
  value: V;
  label: string;
}

interface SelectProps<V extends string> extends Surround {
  name: string;
  value: V | '';
  options: readonly Option<V>[];
  onChange: (value: V | '') => void;
  /** Text of the empty choice; without it there is none once something is chosen. */
  none?: string;
}

export function Select<V extends string>(props: SelectProps<V>) {
  const { label, help, problem, optional, name, value, options, onChange, none } = props;
  const messageId = useId();
  return (
    <div className="field" data-refused={problem ? '' : undefined}>
      <FieldLabel htmlFor={name} label={label} optional={optional} />
      <select
        id={name}
        name={name}
        value={value}
        onChange={(event) => onChange(event.target.value as V | '')}
        className="input input-select"
        aria-invalid={problem ? true : undefined}
        aria-describedby={problem || help ? messageId : undefined}
      >
        {(none !== undefined || value === '') && <option value="">{none ?? text.form.choose}</option>}
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
      <FieldMessage id={messageId} help={help} problem={problem} />
    </div>
  );
}

interface ChoiceProps<V extends string> extends Surround {
  name: string;
  value: V | '';
  options: readonly (Option<V> & { help?: string })[];
  onChange: (value: V) => void;
  /** `row`: short words side by side; `list`: one below the other, with help. */
  layout?: 'row' | 'list';
}

/** One of a few, all in sight. */
export function Choice<V extends string>(props: ChoiceProps<V>) {
  const { label, help, problem, optional, name, value, options, onChange, layout = 'row' } = props;
  const messageId = useId();
  return (
    <fieldset
      className="field"
      data-refused={problem ? '' : undefined}
      aria-describedby={problem || help ? messageId : undefined}
    >
      <legend className="field-label">
        {label}
        {optional && <span className="field-optional"> {text.form.optional}</span>}
      </legend>
      <div className={`choice choice-${layout}`}>
        {options.map((option, index) => (
          <label key={option.value} className="choice-option">
            <input
              type="radio"
              id={index === 0 ? name : `${name}-${option.value}`}
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => onChange(option.value)}
            />
            <span>
              {option.label}
              {option.help && <span className="choice-help">{option.help}</span>}
            </span>
          </label>
        ))}
      </div>
      <FieldMessage id={messageId} help={help} problem={problem} />
    </fieldset>
  );
}

interface TickProps extends Surround {
  name: string;
  checked: boolean;
  onChange: (checked: boolean) => void;
}

export function Tick({ label, help, problem, name, checked, onChange }: TickProps) {
  const messageId = useId();
  return (
    <div className="field" data-refused={problem ? '' : undefined}>
      <label className="tick">
        <input
          type="checkbox"
          id={name}
          name={name}
          checked={checked}
          onChange={(event) => onChange(event.target.checked)}
          aria-describedby={problem || help ? messageId : undefined}
        />
        <span>{label}</span>
      </label>
      <FieldMessage id={messageId} help={help} problem={problem} />
    </div>
  );
}

function FieldLabel({
  htmlFor,
  label,
  optional,
}: {
  htmlFor: string;
  label: ReactNode;
  optional: boolean | undefined;
}) {
  return (
    <label className="field-label" htmlFor={htmlFor}>
      {label}
      {optional && <span className="field-optional"> {text.form.optional}</span>}
    </label>
  );
}

function FieldMessage({ id, help, problem }: { id: string; help: ReactNode; problem: string | undefined }) {
  if (problem) {
    return (
      <p className="field-problem" id={id}>
        {problem}
      </p>
    );
  }
  return help ? (
    <p className="field-help" id={id}>
      {help}
    </p>
  ) : null;
}
