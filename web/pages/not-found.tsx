import { text } from '../messages/en.ts';
import { LinkButton } from '../parts/button.tsx';
import { PageHeader } from '../parts/page.tsx';

export default function NotFoundPage() {
  return (
    <>
      <PageHeader title={text.shell.notFoundTitle} lead={text.shell.notFoundWhat} />
      <LinkButton href="/">{text.shell.toToday}</LinkButton>
    </>
  );
}
