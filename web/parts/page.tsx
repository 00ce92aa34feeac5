import { type ReactNode, useEffect, useRef } from 'react';
import { Link } from 'wouter';
import { text } from '../messages/en.ts';

interface PageHeaderProps {
  /** Heading of the page. */
  title: string;
  /** Title in the browser where the heading alone does not tell pages apart. */
  documentTitle?: string;
  /** Small line above the heading: where this page belongs. */
  within?: { href: string; label: string };
  lead?: ReactNode;
  actions?: ReactNode;
}

/** The heading of a page. A page entered by a link gives it the focus, so that a screen reader says where one is. */
export function PageHeader({ title, documentTitle = title, within, lead, actions }: PageHeaderProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = text.shell.title(documentTitle);
  }, [documentTitle]);
  useEffect(() => {
    const nothingFocused = document.activeElement === null || document.activeElement === document.body;
    if (nothingFocused && window.history.state !== null) heading.current?.focus({ preventScroll: true });
  }, []);
  return (
    <header className="page-header">
      <div className="page-header-text">
        {within && (
          <Link href={within.href} className="page-within">
            {within.label}
          </Link>
        )}
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        {lead !== undefined && <div className="page-lead">{lead}</div>}
      </div>
      {actions !== undefined && <div className="row no-print">{actions}</div>}
    </header>
  );
}

interface SectionProps {
  title: string;
  /** Beside the heading. */
  aside?: ReactNode;
  children: ReactNode;
}

/** A part of a page with a heading of the second order. */
export function Section({ title, aside, children }: SectionProps) {
  return (
    <section className="section">
      <div className="row spread">
        <h2>{title}</h2>
        {aside}
      </div>
      {children}
    </section>
  );
}

/** Says what belongs here, and offers the first step. */
export function Empty({ title, children, action }: { title: string; children: ReactNode; action?: ReactNode }) {
  return (
    <div className="empty">
      <h2>{title}</h2>
      <div className="measure">{children}</div>
      {action !== undefined && <div className="row">{action}</div>}
    </div>
  );
}
