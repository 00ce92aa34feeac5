import { type Ref, useId } from 'react';
import { text } from '../messages/en.ts';
import { changeSign } from './field.tsx';
import { type Read, READING_FIELD, readingHandlers } from './reading-handlers.ts';
import './reading-input.css';

interface ReadingInputProps {
  name: string;
  label: string;
  unit: string;
  value: string;
  onChange: (value: string) => void;
  /** The Enter key, also of a balance that types: on to the next field. */
  onEnter: () => void;
  /** The field was left, or a balance string came in: what it reads, or why it cannot be read, and what it was read from. */
  onRead: (read: Read, typed: string) => void;
  problem?: string | undefined;
  /** Small line below: carried over, converted from another unit. */
  note?: string | null | undefined;
  isReadOnly?: boolean;
  signed?: boolean;
  ref?: Ref<HTMLInputElement>;
}

/** One number from an instrument, large, typed or pasted or sent by the instrument itself. */
export function ReadingInput(props: ReadingInputProps) {
  const { name, label, unit, value, onChange, onEnter, onRead, problem, note, isReadOnly = false, signed, ref } = props;
  const messageId = useId();
  const handlers = readingHandlers({ unit, onChange, onEnter, onRead });
  return (
    <div className="reading" data-refused={problem ? '' : undefined}>
      <div className="reading-head">
        <label htmlFor={name}>
          {label} <span className="quiet">{unit}</span>
        </label>
        {signed && !isReadOnly && (
          <button
            type="button"
            className="sign-key"
            tabIndex={-1}
            aria-label={text.form.changeSign(label)}
            onClick={() => onChange(changeSign(value))}
          >
            ±
          </button>
        )}
      </div>
      <input
        ref={ref}
        id={name}
        name={name}
        {...READING_FIELD}
        className="input reading-field"
        value={value}
        readOnly={isReadOnly}
        aria-invalid={problem ? true : undefined}
        aria-describedby={problem || note ? messageId : undefined}
        onChange={(event) => onChange(event.target.value)}
        {...handlers}
      />
      {(problem ?? note) && (
        <p id={messageId} className={problem ? 'field-problem' : 'field-help'}>
          {problem ?? note}
        </p>
      )}
    </div>
  );
}
