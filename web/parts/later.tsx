import { Component, type ComponentType, lazy, type ReactNode, useState } from 'react';
import { NetworkError } from '../api.ts';
import { LoadFailed } from './loading.tsx';

/**
 * A component fetched when it is first needed. Where it cannot be fetched, its place says so and offers another try; the
 * rest of the page, and what is being typed there, goes on.
 */
export function later<P extends object>(load: () => Promise<{ default: ComponentType<P> }>): ComponentType<P> {
  const fetched = (isAgain: boolean) =>
    lazy(() =>
      load().catch(async () => {
        // A browser may remember that a part could not be fetched and never ask for it again; a new page does.
        if (isAgain && (await isServerThere())) window.location.reload();
        throw new NetworkError();
      }),
    );
  let Part = fetched(false);
  return function Later(props: P) {
    const [attempt, setAttempt] = useState(0);
    const tryAgain = () => {
      Part = fetched(true);
      setAttempt(attempt + 1);
    };
    return (
      <Fetched key={attempt} onRetry={tryAgain}>
        <Part {...props} />
      </Fetched>
    );
  };
}

const isServerThere = (): Promise<boolean> =>
  fetch('/', { method: 'HEAD', cache: 'no-store' }).then(
    ({ ok }) => ok,
    () => false,
  );

interface FetchedProps {
  onRetry: () => void;
  children: ReactNode;
}

/** Any other failure is not its business and goes on to whoever catches a broken page. */
class Fetched extends Component<FetchedProps, { error: Error | null }> {
  override state: { error: Error | null } = { error: null };

  static getDerivedStateFromError(error: Error): { error: Error } {
    return { error };
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (error === null) return this.props.children;
    if (!(error instanceof NetworkError)) throw error;
    return <LoadFailed error={error} onRetry={this.props.onRetry} />;
  }
}
