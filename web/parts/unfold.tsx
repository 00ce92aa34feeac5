import { createContext, type ReactNode, useContext } from 'react';
import { unfoldText } from '../messages/en-unfold.ts';
import './unfold.css';

export type PointNumber =
  'mean' | 'bias' | 'sd' | 'combinedUncertainty' | 'expandedUncertainty' | 'coverageFactor' | 'probabilityOfConformity';
/** Which number: one of a test point, or of a trial. */
export type Unfoldable =
  { pointMl: string; number: PointNumber } | { trial: number; number: 'volume' | 'simpleVolume' };

export const keyOf = (of: Unfoldable): string =>
  'trial' in of ? `trial-${of.trial}-${of.number}` : `${of.pointMl}-${of.number}`;

interface Unfolding {
  open: readonly Unfoldable[];
  toggle: (of: Unfoldable) => void;
  panelId: string;
}
export const UnfoldingContext = createContext<Unfolding | null>(null);

/** A computed number: a press shows where it comes from. Plain where nothing around it can explain it. */
export function Unfold({ of, children }: { of: Unfoldable; children: ReactNode }) {
  const unfolding = useContext(UnfoldingContext);
  if (!unfolding) return children;
  const isOpen = unfolding.open.some((one) => keyOf(one) === keyOf(of));
  return (
    <UnfoldButton isOpen={isOpen} controls={unfolding.panelId} onPress={() => unfolding.toggle(of)}>
      {children}
    </UnfoldButton>
  );
}

interface UnfoldButtonProps {
  isOpen: boolean;
  controls: string;
  onPress: () => void;
  children: ReactNode;
}

/** Looks like the number it is, with a dotted line that says it opens. */
export function UnfoldButton({ isOpen, controls, onPress, children }: UnfoldButtonProps) {
  return (
    <button
      type="button"
      className="unfold-number"
      aria-expanded={isOpen}
      aria-controls={controls}
      title={unfoldText.hint}
      onClick={onPress}
    >
      {children}
    </button>
  );
}
