import { PageHeader } from '../parts/page.tsx';

export default function VesselPage({ id }: { id: string }) {
  return <PageHeader title={id} />;
}
