import fQuantile from '@stdlib/stats-base-dists-f-quantile';
import { summarise } from '../statistics.ts';

/** Share found in a sample with the limits of the share it was drawn from. */
export interface Share {
  count: number;
  of: number;
  share: number;
  low: number;
  high: number;
}

/**
 * Exact interval for a share from k found among n, by the relation of the binomial to F: at either end the
 * probability of a count as extreme is at most (1 − probability)/2.
 * @param probability of coverage, at least so much is kept
 * @returns shares from 0 to 1
 * @throws RangeError below one piece, or for a count outside 0 … n
 * @source clopper-pearson-1934, central limits for a binomial share
 */
export function exactShare(count: number, of: number, probability = 0.95): Share {
  if (!(of >= 1 && count >= 0 && count <= of)) throw new RangeError('a share needs 0 … n of at least one piece');
  const upper = (1 + probability) / 2;
  const low = count === 0 ? 0 : count / (count + (of - count + 1) * fQuantile(upper, 2 * (of - count + 1), 2 * count));
  const f = count === of ? 0 : fQuantile(upper, 2 * (count + 1), 2 * (of - count));
  const high = count === of ? 1 : ((count + 1) * f) / (of - count + (count + 1) * f);
  return { count, of, share: count / of, low, high };
}

/** One vessel of a lot or maker: its bias at the nominal volume, with U and the limits of each class there, mL. */
export interface Piece {
  biasMl: number;
  expandedUncertaintyMl: number;
}

export interface ClassShare {
  class: string;
  toleranceMl: number;
  /** Pieces whose error lies within the limit; U is not taken off. */
  within: Share;
  /** Pieces beyond doubt outside, |b| > T + U. */
  beyond: number;
}

export interface Distribution {
  n: number;
  meanBiasMl: number;
  /** Null below two pieces. */
  sdMl: number | null;
  smallestMl: number;
  largestMl: number;
  classes: ClassShare[];
}

/**
 * How the errors of a lot or of a maker's ware are spread, and which share keeps the limit of each class, with its exact
 * 95 % interval.
 * @param limits class and tolerance in mL, in the order they are shown
 * @returns null without a piece
 * @source clopper-pearson-1934, central limits for a binomial share
 */
export function distributionOf(
  pieces: readonly Piece[],
  limits: readonly { class: string; toleranceMl: number }[],
): Distribution | null {
  if (pieces.length === 0) return null;
  const { n, mean, sd, smallest, largest } = summarise(pieces.map(({ biasMl }) => biasMl));
  return {
    n,
    meanBiasMl: mean,
    sdMl: sd,
    smallestMl: smallest,
    largestMl: largest,
    classes: limits.map((limit) => {
      const slack = 1e-9 * limit.toleranceMl;
      const within = pieces.filter(({ biasMl }) => Math.abs(biasMl) <= limit.toleranceMl + slack).length;
      const beyond = pieces.filter(
        (piece) => Math.abs(piece.biasMl) > limit.toleranceMl + piece.expandedUncertaintyMl + slack,
      ).length;
      return { ...limit, within: exactShare(within, n), beyond };
    }),
  };
}
