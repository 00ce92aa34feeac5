import { type ReactNode, useEffect, useRef } from 'react';
import { text } from '../../messages/en.ts';

/** Each screen brings its own frame: which one was shown before is known here alone. */
let shownBefore: string | null = null;

export interface FrameParts {
  /** Right in the bar: whose phone it is, what is not sent. */
  end?: ReactNode;
  /** Below the bar: what is true of the whole page. */
  banner?: ReactNode;
}

interface FrameProps extends FrameParts {
  title: string;
  lead?: ReactNode;
  /** Another screen than before: its heading takes the focus. */
  screen?: string;
  children: ReactNode;
}

/** The frame of every page of a class on a phone: a quiet bar, one heading, the page below. */
export function Frame({ title, lead, end, banner, screen, children }: FrameProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = text.shell.title(title);
  }, [title]);
  useEffect(() => {
    if (screen === undefined || shownBefore === screen) return;
    const isFirst = shownBefore === null;
    shownBefore = screen;
    if (isFirst) return;
    heading.current?.focus();
    window.scrollTo(0, 0);
  }, [screen]);
  return (
    <>
      <header className="class-bar">
        <span className="class-brand">{text.shell.name}</span>
        <div className="class-bar-end">{end}</div>
      </header>
      {banner}
      <main className="class-main">
        <div className="class-heading">
          <h1 tabIndex={-1} ref={heading}>
            {title}
          </h1>
          {lead !== undefined && <p className="page-lead">{lead}</p>}
        </div>
        {children}
      </main>
    </>
  );
}
