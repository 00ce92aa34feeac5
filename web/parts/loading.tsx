import type { UseQueryResult } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { isRefusal, ProblemError } from '../api.ts';
import { text } from '../messages/en.ts';
import { Button } from './button.tsx';
import { NothingHere } from './nothing-here.tsx';

export function Loading({ what }: { what: string }) {
  return (
    <p className="loading" role="status">
      {text.shell.loading(what)}
    </p>
  );
}

export function LoadFailed({ error, onRetry }: { error: unknown; onRetry: () => void }) {
  return (
    <div className="notice notice-strong" role="alert">
      <p>
        <strong>{text.shell.failedTitle}.</strong> {isRefusal(error) ? error.message : String(error)}
      </p>
      <Button onClick={onRetry}>{text.shell.tryAgain}</Button>
    </div>
  );
}

interface LoadedProps<T> {
  query: UseQueryResult<T>;
  what: string;
  children: (data: T) => ReactNode;
}

/** Shows what a query brought, or that it is on its way, or why it failed; old data stay visible while new ones come. */
export function Loaded<T>({ query, what, children }: LoadedProps<T>) {
  if (query.data !== undefined) return children(query.data);
  if (query.error instanceof ProblemError && query.error.code === 'not-found')
    return <NothingHere what={query.error.message} />;
  if (query.isError) return <LoadFailed error={query.error} onRetry={() => void query.refetch()} />;
  return <Loading what={what} />;
}
