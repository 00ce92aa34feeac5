import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { isRefusal, ProblemError, type Refusal } from '../api.ts';
import { text } from '../messages/en.ts';
import { Field, Tick } from './field.tsx';

/** Refusals by field name, and the questions the server asks before it takes an unusual value. */
export interface FormRefusal {
  title: string;
  detail: string;
  /** In the order of the answer; `field` is the name at the end of the pointer chain: `conditions/airPressureHpa`. */
  fields: { field: string; detail: string; confirm?: string }[];
  /** Some of its fields were put right since: nobody is called back to what is left. */
  isRest?: true;
}

export const refusalOf = (error: Refusal): FormRefusal => {
  if (!(error instanceof ProblemError)) return { title: text.form.refusedTitle, detail: error.message, fields: [] };
  return {
    title: error.code === 'please-confirm' ? text.form.questionTitle : error.title,
    detail: error.message,
    fields: error.fields.map(({ pointer, detail, confirm }) => ({
      field: pointer.replace(/^#\//, ''),
      detail,
      ...(confirm ? { confirm } : {}),
    })),
  };
};

/** A refusal found on the page itself, before anything was sent. */
export const refusedHere = (problems: Partial<Record<string, string>>): FormRefusal | null => {
  const fields = Object.entries(problems).flatMap(([field, detail]) => (detail ? [{ field, detail }] : []));
  return fields.length === 0 ? null : { title: text.form.summaryTitle, detail: '', fields };
};

/**
 * State of a form that is sent: refusal, busy, and the questions answered with yes. `send` gets the members to add to the
 * body (`confirm`, `note`), and is called with the same typed values as often as needed.
 */
export function useSubmission() {
  const [refusal, setRefusal] = useState<FormRefusal | null>(null);
  const [busy, setBusy] = useState(false);
  const [confirmed, setConfirmed] = useState<readonly string[]>([]);
  const [note, setNote] = useState('');
  const submit = useCallback(
    async (send: (extra: { confirm?: string[]; note?: string }) => Promise<void>) => {
      setBusy(true);
      try {
        await send(confirmed.length > 0 ? { confirm: [...confirmed], ...(note.trim() ? { note } : {}) } : {});
        setRefusal(null);
      } catch (error) {
        if (!isRefusal(error)) throw error;
        setRefusal(refusalOf(error));
      } finally {
        setBusy(false);
      }
    },
    [confirmed, note],
  );
  const problemAt = (field: string): string | undefined =>
    refusal?.fields.find((one) => one.field === field && !one.confirm)?.detail;
  const questionAt = (field: string) => refusal?.fields.find((one) => one.field === field && one.confirm);
  return { refusal, setRefusal, busy, submit, problemAt, questionAt, confirmed, setConfirmed, note, setNote };
}
export type Submission = ReturnType<typeof useSubmission>;

interface SummaryProps {
  refusal: FormRefusal | null;
  /** What of it still holds, where the form follows what is put right since; the focus stays where it is. */
  shown?: FormRefusal | null;
}

/** Names every refused field, from top to bottom, and links to it. Takes the focus when a new refusal arrives. */
export function ErrorSummary({ refusal, shown = refusal }: SummaryProps) {
  const box = useRef<HTMLDivElement>(null);
  const lines = useMemo(() => linesOf(shown?.fields ?? []), [shown]);
  useEffect(() => {
    if (refusal && !refusal.isRest) box.current?.focus();
  }, [refusal]);
  if (!shown) return null;
  return (
    <div className="error-summary" role="alert" tabIndex={-1} ref={box}>
      <h2>{shown.title}</h2>
      {lines.length === 0 ? (
        <p>{shown.detail}</p>
      ) : (
        <ul>
          {lines.map(({ field, detail, label }) => (
            <li key={field + detail}>
              <a href={`#${field}`} onClick={(event) => goToField(event, field)}>
                {label === null ? detail : `${label}: ${detail}`}
              </a>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** A list in the body (`points/0`) belongs to the field that holds the whole list. */
const controlOf = (field: string): HTMLElement | null => {
  const names = [field, field.replace(/\/\d+$/, ''), field.split('/')[0] ?? ''];
  return names.map((name) => document.getElementById(name)).find((found) => found !== null) ?? null;
};

/** As its label begins: what stands behind it there is an aside. */
const labelOf = (control: HTMLElement | null): string | null => {
  if (!control) return null;
  const label =
    control instanceof HTMLInputElement || control instanceof HTMLTextAreaElement ? control.labels?.[0] : null;
  // One of a group of choices has its own mark first, and no name of the group.
  return control.getAttribute('aria-label') ?? (label?.firstChild?.textContent?.trim() || null);
};

/** Refused fields as they follow each other on the page, each with its label: what is wrong often does not say where. */
function linesOf(fields: FormRefusal['fields']): { field: string; detail: string; label: string | null }[] {
  const found = fields.map(({ field, detail }) => ({ field, detail, control: controlOf(field) }));
  const isBefore = (one: HTMLElement, other: HTMLElement) =>
    one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING;
  found.sort((one, other) => {
    if (one.control === other.control) return 0;
    if (!one.control || !other.control) return one.control ? -1 : 1;
    return isBefore(one.control, other.control) ? -1 : 1;
  });
  return found.map(({ field, detail, control }) => ({ field, detail, label: labelOf(control) }));
}

const goToField = (event: { preventDefault: () => void }, field: string): void => {
  const control = controlOf(field);
  if (!control) return;
  event.preventDefault();
  control.closest('.field')?.scrollIntoView({ block: 'center' });
  control.focus({ preventScroll: true });
};

/** The server's question at its field: a possible but unusual value is taken with a yes and a note. */
export function Question({ submission, field }: { submission: Submission; field: string }) {
  const question = submission.questionAt(field);
  const name = question?.confirm;
  if (!question || !name) return null;
  const { confirmed, setConfirmed, note, setNote } = submission;
  const isConfirmed = confirmed.includes(name);
  return (
    <div className="question">
      <p>{question.detail}</p>
      <Tick
        name={`confirm-${name}`}
        label={text.form.reallySo}
        checked={isConfirmed}
        onChange={(yes) => setConfirmed(yes ? [...confirmed, name] : confirmed.filter((one) => one !== name))}
      />
      {isConfirmed && (
        <Field
          name="confirm-note"
          label={text.form.confirmNote}
          help={text.form.confirmNoteHelp}
          value={note}
          onChange={setNote}
        />
      )}
    </div>
  );
}
