import type { ReactNode } from 'react';
import { text } from '../../messages/en.ts';
import { shelfText } from '../../messages/en-solutions.ts';
import { LinkButton } from '../../parts/button.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { useMay } from '../../session.ts';

/** Shown to whoever makes solutions. */
export function ForPreparing({ children }: { children: ReactNode }) {
  const may = useMay();
  return may('prepare') ? children : null;
}

/** A page that only makes something: who may not do that is told, and led back to the shelf. */
export function PreparingPageOnly({ children }: { children: ReactNode }) {
  const may = useMay();
  if (may('prepare')) return children;
  return (
    <>
      <PageHeader title={shelfText.notYours} lead={shelfText.notYoursWhat} />
      <LinkButton href="/">{text.shell.back}</LinkButton>
    </>
  );
}
