import { type ReactNode, useEffect, useRef } from 'react';
import { text } from '../../messages/en.ts';

export interface FrameParts {
  /** Right in the bar: whose phone it is, what is not sent. */
  end?: ReactNode;
  /** Below the bar: what is true of the whole page. */
  banner?: ReactNode;
}

interface FrameProps extends FrameParts {
  title: string;
  lead?: ReactNode;
  /** Another screen under the same address: its heading takes the focus. */
  screen?: string;
  children: ReactNode;
}

/** The frame of every page of a class on a phone: a quiet bar, one heading, the page below. */
export function Frame({ title, lead, end, banner, screen = '', children }: FrameProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  const shown = useRef(screen);
  useEffect(() => {
    document.title = text.shell.title(title);
  }, [title]);
  useEffect(() => {
    if (shown.current === screen) return;
    shown.current = screen;
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
