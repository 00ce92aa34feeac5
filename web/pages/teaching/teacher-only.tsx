import type { ReactNode } from 'react';
import { text } from '../../messages/en.ts';
import { teachingText } from '../../messages/en-teaching.ts';
import { LinkButton } from '../../parts/button.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { useMay } from '../../session.ts';

/** A page that only plans or enters: who may not is told who may, and led back. */
export function TeacherPageOnly({ children }: { children: ReactNode }) {
  const may = useMay();
  if (may('teach')) return children;
  return (
    <>
      <PageHeader title={text.shell.notYours} lead={teachingText.readOnly} />
      <LinkButton href="/">{text.shell.back}</LinkButton>
    </>
  );
}
