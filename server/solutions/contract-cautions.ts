/** What to mind at a step, by name; pages and papers hold the words. */
export const CAUTIONS = [
  'data-sheet-first',
  'goggles-and-gloves',
  'licensed-practice',
  'toxic',
  'corrosive',
  'harmful',
  'irritant',
  'oxidiser',
  'fumes',
  'acid-into-water',
  'heat-of-dissolution',
  'dissolve-in-beaker',
  'cool-before-mark',
  'no-storage-in-flask',
  'dry-before-weighing',
  'takes-up-air',
  'loses-water',
  'keep-dark',
  'stains',
  'environment',
] as const;
export type Caution = (typeof CAUTIONS)[number];

/** Hold for every solution. */
const ALWAYS: readonly Caution[] = ['data-sheet-first', 'goggles-and-gloves', 'no-storage-in-flask'];
const ALWAYS_BY_WAY: Record<'solid' | 'solid-by-mass' | 'dilution' | 'standardisation', readonly Caution[]> = {
  solid: [...ALWAYS, 'dissolve-in-beaker', 'cool-before-mark'],
  // There is no flask and no mark.
  'solid-by-mass': ['data-sheet-first', 'goggles-and-gloves'],
  dilution: ALWAYS,
  standardisation: ['data-sheet-first', 'goggles-and-gloves'],
};

/** Cautions of a way of making with those of its substance, in the order they are minded. */
export const cautionsFor = (way: keyof typeof ALWAYS_BY_WAY, own: readonly Caution[]): Caution[] => {
  const counted = new Set<Caution>([...ALWAYS_BY_WAY[way], ...own]);
  if (counted.has('heat-of-dissolution') && way !== 'solid-by-mass') counted.add('cool-before-mark');
  return CAUTIONS.filter((caution) => counted.has(caution));
};
