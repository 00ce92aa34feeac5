import { text } from '../messages/en.ts';
import { LinkButton } from './button.tsx';
import { PageHeader } from './page.tsx';

/** An address that leads to nothing: asking again would not help, so the way back is offered. */
export function NothingHere({ what = text.shell.notFoundWhat }: { what?: string }) {
  return (
    <>
      <PageHeader title={text.shell.notFoundTitle} lead={what} />
      <LinkButton href="~/">{text.shell.toToday}</LinkButton>
    </>
  );
}
