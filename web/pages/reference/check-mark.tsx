import type { ToleranceRowOnWire } from '../../../server/reference/contract.ts';
import { referenceText } from '../../messages/en-reference.ts';

const words = referenceText.tolerances.marks;

/** How far a limit was checked, best first. */
export const CHECKS = ['read', 'agree', 'one', 'memory', 'practice'] as const;
export type Check = (typeof CHECKS)[number];

const BY_VERIFICATION: Record<string, Check> = {
  'two sources agree': 'agree',
  'one source': 'one',
  'from memory': 'memory',
  'common practice, no source': 'practice',
};

/** A row read in the standard needs no other witness. */
export const checkOf = (row: Pick<ToleranceRowOnWire, 'verification' | 'readInStandard'>): Check =>
  row.readInStandard ? 'read' : (BY_VERIFICATION[row.verification] ?? 'memory');

/** One bead a witness; a page where the standard itself was read; a hollow bead where nothing was. */
const SHAPES: Record<Check, { path?: string; beads: readonly number[]; hollow?: boolean }> = {
  read: { path: 'M5 2h10v12H5zM8 6h4M8 9.5h4', beads: [] },
  agree: { beads: [6, 14] },
  one: { beads: [10] },
  memory: { beads: [10], hollow: true },
  practice: { path: 'M4 8h12', beads: [] },
};

export function CheckMark({ check }: { check: Check }) {
  const { path, beads, hollow } = SHAPES[check];
  return (
    <span className={`check check-${check}`}>
      <svg viewBox="0 0 20 16" aria-hidden="true">
        {path && <path d={path} />}
        {beads.map((x) => (
          <circle key={x} cx={x} cy="8" r="3.25" className={hollow ? 'check-hollow' : 'check-bead'} />
        ))}
      </svg>
      <span>{words[check]}</span>
    </span>
  );
}
