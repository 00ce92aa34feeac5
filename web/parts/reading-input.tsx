import { type ClipboardEvent, type KeyboardEvent, type Ref, useId } from 'react';
import { text } from '../messages/en.ts';
import { changeSign } from './field.tsx';
import { readNumber } from './read-number.ts';
import './reading-input.css';

export type Read = { value: string; note: string | null } | { problem: string };

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

const PAIR_MS = 100;
let lastEnterMs = Number.NEGATIVE_INFINITY;

/**
 * A balance that types may end its line with CR and LF: two Enters, nothing between them, closer together than fingers
 * are. Only the first goes on.
 */
function isSecondOfPair(key: string, timeStampMs: number): boolean {
  const isSecond = key === 'Enter' && timeStampMs - lastEnterMs < PAIR_MS;
  lastEnterMs = key === 'Enter' ? timeStampMs : Number.NEGATIVE_INFINITY;
  return isSecond;
}

/** One number from an instrument, large, typed or pasted or sent by the instrument itself. */
export function ReadingInput(props: ReadingInputProps) {
  const { name, label, unit, value, onChange, onEnter, onRead, problem, note, isReadOnly = false, signed, ref } = props;
  const messageId = useId();
  const readNow = (typed: string): void => {
    if (typed.trim() === '') return;
    const read = readNumber(typed, unit);
    onRead(read.ok ? { value: read.value, note: read.converted } : { problem: read.problem }, typed);
  };
  const keyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    const isSecond = isSecondOfPair(event.key, event.timeStamp);
    if (event.key !== 'Enter' || event.nativeEvent.isComposing) return;
    event.preventDefault();
    if (event.repeat || isSecond) return;
    readNow(event.currentTarget.value);
    onEnter();
  };
  const paste = (event: ClipboardEvent<HTMLInputElement>): void => {
    const pasted = event.clipboardData.getData('text/plain');
    // Plain digits are pasted by the browser as usual; a whole balance string is taken apart.
    if (/^[\d.,]*$/.test(pasted.trim()) && !/[\r\n]/.test(pasted)) return;
    event.preventDefault();
    onChange(pasted.trim());
    readNow(pasted);
  };
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
        type="text"
        inputMode="decimal"
        enterKeyHint="next"
        autoComplete="off"
        spellCheck={false}
        className="input reading-field"
        value={value}
        readOnly={isReadOnly}
        aria-invalid={problem ? true : undefined}
        aria-describedby={problem || note ? messageId : undefined}
        onChange={(event) => onChange(event.target.value)}
        onFocus={(event) => event.currentTarget.select()}
        onBlur={(event) => readNow(event.currentTarget.value)}
        onKeyDown={keyDown}
        onPaste={paste}
      />
      {(problem ?? note) && (
        <p id={messageId} className={problem ? 'field-problem' : 'field-help'}>
          {problem ?? note}
        </p>
      )}
    </div>
  );
}
