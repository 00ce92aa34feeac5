import { text } from '../messages/en.ts';
import { PageHeader } from '../parts/page.tsx';

export default function StartCalibrationPage() {
  return <PageHeader title={text.shell.rooms.bench} />;
}
