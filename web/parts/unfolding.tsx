import { type ReactNode, Suspense, useId, useMemo, useState } from 'react';
import { unfoldText } from '../messages/en-unfold.ts';
import { keyOf, type Unfoldable, UnfoldingContext } from './unfold.tsx';
import { later } from './later.tsx';

const ExplanationPanel = later(() => import('./explanation-tree.tsx'));

interface UnfoldingOfProps {
  calibrationId: string;
  /** Version of the calibration; another one has other explanations. */
  version: number | string;
  /** Something the numbers on the page know and the explanations do not yet. */
  notice?: string | undefined;
  children: ReactNode;
}

/** Numbers of one calibration that open in place: below `children`, in the order they were opened. */
export function UnfoldingOf({ calibrationId, version, notice, children }: UnfoldingOfProps) {
  const [open, setOpen] = useState<readonly Unfoldable[]>([]);
  const panelId = useId();
  const unfolding = useMemo(() => {
    const toggle = (of: Unfoldable) =>
      setOpen((before) => {
        const rest = before.filter((one) => keyOf(one) !== keyOf(of));
        return rest.length < before.length ? rest : [...before, of];
      });
    return { open, toggle, panelId };
  }, [open, panelId]);
  return (
    <UnfoldingContext value={unfolding}>
      {children}
      <div id={panelId} className="unfolded" hidden={open.length === 0}>
        {notice && open.length > 0 && <p className="quiet small">{notice}</p>}
        {open.map((of) => (
          <Suspense key={keyOf(of)} fallback={<p className="quiet">{unfoldText.loading}</p>}>
            <ExplanationPanel
              calibrationId={calibrationId}
              version={version}
              of={of}
              onClose={() => unfolding.toggle(of)}
            />
          </Suspense>
        ))}
      </div>
    </UnfoldingContext>
  );
}
