/** How a field takes one number from an instrument: typed, pasted, or sent by the instrument itself. */
import type { ClipboardEvent, FocusEvent, KeyboardEvent } from 'react';
import { readNumber } from './read-number.ts';

export type Read = { value: string; note: string | null } | { problem: string };

interface ReadingField {
  unit: string;
  onChange: (value: string) => void;
  /** The Enter key, also of a balance that types: on to the next field. */
  onEnter: () => void;
  /** The field was left, or a balance string came in: what it reads, or why it cannot be read, and what it was read from. */
  onRead: (read: Read, typed: string) => void;
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

export function readingHandlers({ unit, onChange, onEnter, onRead }: ReadingField) {
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
    const field = event.currentTarget;
    readNow(field.value);
    onEnter();
    // Where the reading was stopped the cursor is still here: the next one takes its place, once this one is drawn.
    queueMicrotask(() => {
      if (document.activeElement === field) field.select();
    });
  };
  const paste = (event: ClipboardEvent<HTMLInputElement>): void => {
    const pasted = event.clipboardData.getData('text/plain');
    // Plain digits are pasted by the browser as usual; a whole balance string is taken apart.
    if (/^[\d.,]*$/.test(pasted.trim()) && !/[\r\n]/.test(pasted)) return;
    event.preventDefault();
    onChange(pasted.trim());
    readNow(pasted);
  };
  return {
    onFocus: (event: FocusEvent<HTMLInputElement>) => event.currentTarget.select(),
    onBlur: (event: FocusEvent<HTMLInputElement>) => readNow(event.currentTarget.value),
    onKeyDown: keyDown,
    onPaste: paste,
  };
}

/** What a field for a reading asks of the browser: digits on the keyboard of a tablet, and no help with spelling. */
export const READING_FIELD = {
  type: 'text',
  inputMode: 'decimal',
  enterKeyHint: 'next',
  autoComplete: 'off',
  spellCheck: false,
} as const;
