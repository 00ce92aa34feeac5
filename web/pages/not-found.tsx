import { NothingHere } from '../parts/nothing-here.tsx';

export default function NotFoundPage() {
  return <NothingHere />;
}
