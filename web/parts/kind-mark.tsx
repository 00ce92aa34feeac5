import type { VesselKind } from '../../server/metrology/record.ts';

/** Line drawings of the kinds, on a field 24 wide and 32 high; the second path is the mark or division. */
const DRAWINGS: Record<VesselKind, [outline: string, marks: string]> = {
  'volumetric-flask': ['M10 2v12L4.5 25.5A2.6 2.6 0 0 0 7 29h10a2.6 2.6 0 0 0 2.5-3.5L14 14V2M8.5 2h7', 'M8 9h8'],
  'single-volume-pipette': [
    'M11 2v7c-2.2 1.2-2.8 3-2.8 5.5s.6 4.3 2.8 5.5v7l1 3 1-3v-7c2.2-1.2 2.8-3 2.8-5.5S15.2 10.2 13 9V2',
    'M9 5.5h6',
  ],
  'graduated-pipette': ['M10 2v23l2 5 2-5V2M9 2h6', 'M14 7h-3M14 11h-2M14 15h-3M14 19h-2M14 23h-3'],
  burette: ['M9.5 2v21M14.5 2v21M9.5 23l1.5 2v5h2v-5l1.5-2M7 25.5h10', 'M14.5 6h-3M14.5 10h-2M14.5 14h-3M14.5 18h-2'],
  'measuring-cylinder': [
    'M8 2.5v24M16 2v24.5M6.5 2L8 3.5M5 29.5h14M8 26.5h8L19 29.5M8 26.5L5 29.5M8 2h8',
    'M16 8h-4M16 12h-2.5M16 16h-4M16 20h-2.5',
  ],
  beaker: ['M5 6v20a3 3 0 0 0 3 3h8a3 3 0 0 0 3-3V6M3.5 5H20.5', 'M19 12h-5M19 17h-3.5M19 22h-5'],
  'conical-flask': ['M9.5 3v8L4 26a2.3 2.3 0 0 0 2.2 3h11.6A2.3 2.3 0 0 0 20 26L14.5 11V3M8 3h8', 'M8.5 18h4M7 23h4'],
  pycnometer: [
    'M10.5 4v6C7 11.5 4.5 14.5 4.5 19a7.5 9 0 0 0 2.5 8.5c.8.9 1.6 1.5 3 1.5h4c1.4 0 2.2-.6 3-1.5A7.5 9 0 0 0 19.5 19c0-4.5-2.5-7.5-6-9V4M9.5 4h5M12 1.5V12',
    'M9 10h6',
  ],
  'piston-pipette': ['M10 2h4v3h-4zM9 7h6l1 9-2 2h-4l-2-2zM11 18v5M13 18v5M11 23l.5 7h1l.5-7', 'M10.5 10h3'],
  other: ['M7 4v20a5 5 0 0 0 10 0V4M5.5 4h13', 'M17 12h-4M17 18h-4'],
};

/** Small drawing of a kind of glassware, beside its name. */
export function KindMark({ kind }: { kind: VesselKind }) {
  const [outline, marks] = DRAWINGS[kind];
  return (
    <svg className="kind-mark" viewBox="0 0 24 32" aria-hidden="true">
      <path d={outline} />
      <path className="kind-mark-lines" d={marks} />
    </svg>
  );
}
