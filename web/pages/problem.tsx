import { RefusalPage } from './reference/refusals.tsx';
import './reference.css';

/** Explains the refusal whose type is this address: `/problems/stale-edit`. */
export default function ProblemPage({ code }: { code: string }) {
  return <RefusalPage code={code} />;
}
