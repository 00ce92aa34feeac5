import type { VersionIds } from './result.ts';

/** Changes whenever the same record would give another result. */
export const MODEL_VERSION = 'gravimetric-2';

/** Version of the tolerance table this computation goes with; a test holds it equal to the table's own. */
export const TOLERANCES_VERSION = 'tolerances-1';

/** Changes whenever the same recipe would give another concentration. */
export const SOLUTIONS_VERSION = 'solutions-2';

export const VERSIONS: VersionIds = {
  model: MODEL_VERSION,
  waterDensity: 'tanaka-2001',
  airDensity: 'cipm-2007',
  tolerances: TOLERANCES_VERSION,
};
