import { text } from '../messages/en.ts';
import { PageHeader } from '../parts/page.tsx';

export default function GlasswarePage() {
  return <PageHeader title={text.shell.rooms.glassware} />;
}
