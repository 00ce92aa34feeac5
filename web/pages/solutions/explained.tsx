import { createContext, type ReactNode, Suspense, useContext, useId, useMemo, useState } from 'react';
import { unfoldText } from '../../messages/en-unfold.ts';
import type { Explanation } from '../../parts/explained-number.ts';
import { later } from '../../parts/later.tsx';
import { UnfoldButton } from '../../parts/unfold.tsx';

const ExplainedNode = later(() => import('./explained-node.tsx'));

interface Opening {
  known: Readonly<Record<string, Explanation | null>>;
  open: readonly string[];
  toggle: (name: string) => void;
  panelId: string;
}
const OpeningContext = createContext<Opening | null>(null);

interface ExplainedProps {
  /** The way to each number that opens, by its name here. */
  nodes: Readonly<Record<string, Explanation | null>>;
  children: ReactNode;
}

/** Masses and volumes are shown to the tenth of a milligram and of a microlitre. */
const DECIMALS = 4;

/** Numbers that open in place: below `children`, in the order they were opened. */
export function Explained({ nodes, children }: ExplainedProps) {
  const [open, setOpen] = useState<readonly string[]>([]);
  const panelId = useId();
  const opening = useMemo(() => {
    const toggle = (name: string) =>
      setOpen((before) => (before.includes(name) ? before.filter((one) => one !== name) : [...before, name]));
    return { known: nodes, open, toggle, panelId };
  }, [nodes, open, panelId]);
  const shown = open.flatMap((name) => (nodes[name] ? [[name, nodes[name]] as const] : []));
  return (
    <OpeningContext value={opening}>
      {children}
      <div id={panelId} className="unfolded" hidden={shown.length === 0}>
        {shown.map(([name, node]) => (
          <Suspense key={name} fallback={<p className="quiet">{unfoldText.loading}</p>}>
            <ExplainedNode node={node} decimals={DECIMALS} onClose={() => opening.toggle(name)} />
          </Suspense>
        ))}
      </div>
    </OpeningContext>
  );
}

/** A number that opens where the way to it is known. */
export function Opens({ name, children }: { name: string; children: ReactNode }) {
  const opening = useContext(OpeningContext);
  if (!opening?.known[name]) return children;
  return (
    <UnfoldButton isOpen={opening.open.includes(name)} controls={opening.panelId} onPress={() => opening.toggle(name)}>
      {children}
    </UnfoldButton>
  );
}
