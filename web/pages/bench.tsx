import { PageHeader } from '../parts/page.tsx';

export default function BenchPage({ id }: { id: string }) {
  return <PageHeader title={id} />;
}
