import { text } from '../messages/en.ts';
import { PageHeader } from '../parts/page.tsx';

export default function InstrumentsPage() {
  return <PageHeader title={text.shell.rooms.instruments} />;
}
