import type { VesselKind } from '../../../server/metrology/record.ts';

interface Drawing {
  glass: string;
  water: string;
  /** The mark that is filled to, and divisions. */
  marks: string;
}

/** Short strokes for divisions, every fifth one longer; from `x` to the left. */
const divisions = (x: number, top: number, bottom: number, count: number, length: number): string =>
  Array.from({ length: count + 1 }, (_, index) => {
    const y = top + ((bottom - top) * index) / count;
    return `M${x} ${y}h${index % 5 === 0 ? -length : -length * 0.6}`;
  }).join('');

/** Outlines on a field 100 wide and 140 high, filled to the mark. */
const DRAWINGS: Record<VesselKind, Drawing> = {
  'volumetric-flask': {
    glass: 'M43 8V60C43 70 16 84 16 112Q16 132 28 132H72Q84 132 84 112C84 84 57 70 57 60V8M40 8H60',
    water: 'M43 31Q50 37 57 31V60C57 70 84 84 84 112Q84 132 72 132H28Q16 132 16 112C16 84 43 70 43 60Z',
    marks: 'M39 34H61',
  },
  'single-volume-pipette': {
    glass:
      'M46 4V40C46 46 36 47 36 57V80C36 90 46 91 46 97V124L49 137H51L54 124V97C54 91 64 90 64 80V57C64 47 54 46 54 40V4',
    water:
      'M46 20Q50 24 54 20V40C54 46 64 47 64 57V80C64 90 54 91 54 97V124L51 137H49L46 124V97C46 91 36 90 36 80V57C36 47 46 46 46 40Z',
    marks: 'M41 22H59',
  },
  'graduated-pipette': {
    glass: 'M44 4V118L49 137H51L56 118V4',
    water: 'M44 16Q50 21 56 16V118L51 137H49L44 118Z',
    marks: divisions(56, 19, 114, 20, 9),
  },
  burette: {
    glass: 'M44 4V104L48 110V137M56 4V104L52 110V137M36 114H64M36 110V118M64 110V118',
    water: 'M44 12Q50 17 56 12V104L52 110V137H48V110L44 104Z',
    marks: divisions(56, 15, 100, 20, 9),
  },
  'measuring-cylinder': {
    glass: 'M34 10V120Q34 124 40 124H60Q66 124 66 120V6M34 10L29 6H66M24 134H76M40 124L34 134M60 124L66 134',
    water: 'M34 29Q50 37 66 29V120Q66 124 60 124H40Q34 124 34 120Z',
    marks: divisions(66, 33, 113, 10, 14),
  },
  beaker: {
    glass: 'M18 34V118Q18 132 30 132H70Q82 132 82 118V30M18 34L11 29H82',
    water: 'M18 62Q50 66 82 62V118Q82 132 70 132H30Q18 132 18 118Z',
    marks: 'M82 64H60M82 86H66M82 108H60',
  },
  'conical-flask': {
    glass: 'M42 12V44L14 118Q11 132 23 132H77Q89 132 86 118L58 44V12M38 12H62',
    water: 'M27 82Q50 87 73 82L86 118Q89 132 77 132H23Q11 132 14 118Z',
    marks: 'M40 84H60M36 108H60',
  },
  pycnometer: {
    glass:
      'M42 42V54C24 60 16 76 16 94Q16 132 32 132H68Q84 132 84 94C84 76 76 60 58 54V42M39 42H61M43.5 52V18H56.5V52ZM41 18H59',
    water: 'M42 54C24 60 16 76 16 94Q16 132 32 132H68Q84 132 84 94C84 76 76 60 58 54Z',
    marks: 'M50 18V52',
  },
  'piston-pipette': {
    glass: 'M46 4H54V14H46ZM40 14H60L62 62L56 76H44L38 62ZM46 76V100M54 76V100M45 100H55L51 137H49Z',
    water: 'M46.3 112Q50 115 53.7 112L51 137H49Z',
    marks: 'M44 30H56V40H44Z',
  },
  other: {
    glass: 'M26 16L42 122H58L74 16M21 12L26 16H79M36 133H64M42 122L36 133M58 122L64 133',
    water: 'M32 55Q50 61 68 55L58 122H42Z',
    marks: 'M67 58H54M64 78H54M61 98H52',
  },
};

/** A vessel in outline, filled to its mark. */
export function VesselDrawing({ kind, label }: { kind: VesselKind; label: string }) {
  const { glass, water, marks } = DRAWINGS[kind];
  return (
    <svg className="drawing vessel-drawing" viewBox="0 0 100 140" role="img" aria-label={label}>
      <path className="drawing-liquid" d={water} />
      <path className="drawing-glass" d={glass} />
      <path className="drawing-mark" d={marks} />
    </svg>
  );
}
