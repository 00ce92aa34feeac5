import { Component, type ReactNode } from 'react';
import { text } from '../messages/en.ts';
import { Button } from './button.tsx';

/** Catches a page that broke while drawing, so that the rest of the screen goes on. */
export class Crashed extends Component<{ children: ReactNode }, { broken: boolean }> {
  override state = { broken: false };

  static getDerivedStateFromError(): { broken: boolean } {
    return { broken: true };
  }

  override render(): ReactNode {
    if (!this.state.broken) return this.props.children;
    return (
      <div className="empty" role="alert">
        <h1>{text.shell.crashedTitle}</h1>
        <p>{text.shell.crashedWhat}</p>
        <Button look="primary" onClick={() => window.location.reload()}>
          {text.shell.reload}
        </Button>
      </div>
    );
  }
}
