import { PageHeader } from '../parts/page.tsx';

export default function CorrectVesselPage({ id }: { id: string }) {
  return <PageHeader title={id} />;
}
