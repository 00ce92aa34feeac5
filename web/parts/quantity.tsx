import type { ReactNode } from 'react';
import { withTrueMinus } from './rounding.ts';
import { Unfold, type Unfoldable } from './unfold.tsx';

interface QuantityProps {
  /** Already rounded text, or a typed reading with its digits. */
  value: string;
  unit?: string;
}

const NARROW_SPACE = '\u202f';

/** A number with its unit: the unit quiet, never wrapped from its number, a true minus sign. */
export function Quantity({ value, unit }: QuantityProps) {
  return (
    <span className="quantity">
      {withTrueMinus(value)}
      {unit && (
        <span className="quantity-unit">
          {NARROW_SPACE}
          {unit}
        </span>
      )}
    </span>
  );
}

interface FigureProps extends QuantityProps {
  label: string;
  /** One short line below. */
  sub?: ReactNode;
  /** Which number it is, where it can be opened. */
  of?: Unfoldable;
}

/** A number with its name above, for the figures under a strip. */
export function Figure({ label, value, unit, sub, of }: FigureProps) {
  const isNumber = /\d/.test(value);
  const quantity = <Quantity value={value} {...(unit && isNumber ? { unit } : {})} />;
  return (
    <div className="figure">
      <dt>{label}</dt>
      <dd>
        {of && isNumber ? <Unfold of={of}>{quantity}</Unfold> : quantity}
        {sub && <span className="figure-sub">{sub}</span>}
      </dd>
    </div>
  );
}
