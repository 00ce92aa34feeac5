import { decimalPadding } from '../../parts/rounding.ts';

interface AlignedProps {
  shown: string;
  /** Decimals of the widest number of the column. */
  most: number;
  className?: string;
}

/** A number in a column that stands on its decimal mark. */
export function Aligned({ shown, most, className }: AlignedProps) {
  return (
    <>
      <span className={className}>{shown}</span>
      {decimalPadding(shown, most)}
    </>
  );
}
