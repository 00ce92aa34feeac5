/** How an influence is distributed: `spread` is a standard deviation for `normal`, a half-width for the others. */
export type InfluenceShape = 'normal' | 'rectangular' | 'triangular';

/** One thing that is not known exactly. Steps that share it name it by the same key. */
export interface Influence {
  /** What it is, across all steps of a solution: `vessel:17:calibration`. */
  key: string;
  label: string;
  value: number;
  unit: string;
  shape: InfluenceShape;
  spread: number;
  /** null = infinite. */
  degreesOfFreedom: number | null;
  source: string;
  assumed: boolean;
}

/** Reads one influence from a row of values, in the order of the list. */
export type Reader = (values: ArrayLike<number>) => number;

/** Something computed from influences. */
export interface SolutionModel {
  unit: string;
  influences: readonly Influence[];
  output: Reader;
}

/**
 * Collects the influences of a model. What is taken twice under one key is one influence, so that a vessel, a balance
 * or a thermometer used again acts the same way each time: full correlation, without a covariance written down.
 */
export class Influences {
  readonly #byKey = new Map<string, number>();
  readonly list: Influence[] = [];

  /** The reader of an influence; of one taken before, the wider of both spreads counts. */
  take(influence: Influence): Reader {
    const known = this.#byKey.get(influence.key);
    if (known !== undefined) {
      const before = this.list[known];
      if (before && influence.spread > before.spread) before.spread = influence.spread;
      return (values) => values[known] as number;
    }
    const index = this.list.length;
    this.#byKey.set(influence.key, index);
    this.list.push({ ...influence });
    return (values) => values[index] as number;
  }
}

/**
 * Standard uncertainty of an influence in its own unit: half-width over √3 when rectangular, over √6 when triangular.
 * @source jcgm-100-2008, 4.3.7 and 4.3.9
 */
export function influenceUncertainty(influence: Pick<Influence, 'shape' | 'spread'>): number {
  if (influence.shape === 'normal') return influence.spread;
  return influence.spread / Math.sqrt(influence.shape === 'rectangular' ? 3 : 6);
}

/** Begins the keys of what other solutions may share: vessels, balances, elements, bottles, solutions made before. */
const SHARED = /^(?:vessel|balance|atom|bottle|preparation):/;

/**
 * Takes a whole model into another: what both share stays one influence, all else keeps apart under `name`.
 * @param name `preparation:` and what names it
 * @source jcgm-100-2008, 5.2.2 and F.1.2.3 (what is shared is correlated)
 */
export function embed(influences: Influences, model: SolutionModel, name: string): Reader {
  const readers = model.influences.map((influence) => {
    const { key } = influence;
    return influences.take({ ...influence, key: SHARED.test(key) ? key : `${name}/${key}` });
  });
  const row = new Float64Array(readers.length);
  return (values) => {
    for (const [index, reader] of readers.entries()) row[index] = reader(values);
    return model.output(row);
  };
}
