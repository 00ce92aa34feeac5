import { instrumentsText } from '../../messages/en-instruments.ts';

interface DueProps {
  dueOn: string | undefined;
  overdue: boolean;
}

/** When the certificate runs out; a full disc with a bar through it, and the word, once it has. */
export function Due({ dueOn, overdue }: DueProps) {
  if (dueOn === undefined) return <span className="quiet">{instrumentsText.noDue}</span>;
  if (!overdue) return <span className="due">{instrumentsText.due(dueOn)}</span>;
  return (
    <span className="due due-over">
      <svg viewBox="0 0 16 16" aria-hidden="true">
        <circle cx="8" cy="8" r="6.5" />
        <path d="M8 4.5V8.6M8 11.2v.4" />
      </svg>
      <span>{instrumentsText.overdueSince(dueOn)}</span>
    </span>
  );
}
