import type { ReactNode } from 'react';
import { text } from '../messages/en.ts';

/** A quiet sentence about what the data say or what happened. */
export function Notice({ children, tone = 'quiet' }: { children: ReactNode; tone?: 'quiet' | 'strong' }) {
  return <div className={`notice notice-${tone}`}>{children}</div>;
}

/** A safety text at the step where it matters. The laboratory's own rules always come first. */
export function Caution({ title, children }: { title?: string; children: ReactNode }) {
  return (
    <div className="caution" role="note" aria-label={text.caution.label}>
      <svg className="caution-mark" viewBox="0 0 20 20" aria-hidden="true">
        <path d="M10 2.5 18.5 17.5H1.5Z" />
        <path d="M10 8v4.5M10 15v.4" />
      </svg>
      <div>
        {title !== undefined && <strong>{title} </strong>}
        {children}
        <span className="caution-rules"> {text.caution.ownRules}</span>
      </div>
    </div>
  );
}
