import { text } from '../messages/en.ts';
import { PageHeader } from '../parts/page.tsx';

export default function TodayPage() {
  return <PageHeader title={text.shell.rooms.today} />;
}
