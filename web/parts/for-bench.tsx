import type { ReactNode } from 'react';
import { text } from '../messages/en.ts';
import { useMay } from '../session.ts';
import { LinkButton } from './button.tsx';
import { PageHeader } from './page.tsx';

/** Shown to whoever registers, weighs and corrects; the others read the same page without it. */
export function ForBench({ children }: { children: ReactNode }) {
  const may = useMay();
  return may('bench') ? children : null;
}

/** A page that only changes things: who may not do that is told who may, and led back. */
export function BenchPageOnly({ back, children }: { back: string; children: ReactNode }) {
  const may = useMay();
  if (may('bench')) return children;
  return (
    <>
      <PageHeader title={text.shell.notYours} lead={text.shell.notYoursWhat} />
      <LinkButton href={back}>{text.shell.back}</LinkButton>
    </>
  );
}
