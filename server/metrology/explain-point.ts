import { explainLine } from './explain-budget.ts';
import { explainTrial, leaf } from './explain.ts';
import type { Explanation } from './explain.ts';
import { numberOf, sameDecimal } from './decimal.ts';
import type { CalibrationRecord } from './record.ts';
import type { PointResult, TrialResult } from './result.ts';

/** The computed numbers of a point, each unfolded; null where the point has none. */
export interface PointExplanation {
  mean: Explanation | null;
  bias: Explanation | null;
  sd: Explanation | null;
  combinedUncertainty: Explanation | null;
  expandedUncertainty: Explanation | null;
  probabilityOfConformity: Explanation | null;
}

function combinedOf(record: CalibrationRecord, point: PointResult): Explanation | null {
  if (point.combinedUncertaintyMl === null) return null;
  return {
    symbol: 'u_c',
    label: 'combined standard uncertainty of the mean',
    formula: '√Σ(c·u)²',
    value: point.combinedUncertaintyMl,
    unit: 'mL',
    source: 'jcgm-100-2008',
    locator: '5.1.2',
    parts: point.budget.map((line) => explainLine(record, point, line)),
  };
}

function expandedOf(point: PointResult, combined: Explanation | null): Explanation | null {
  if (combined === null || point.expandedUncertaintyMl === null) return null;
  const percent = 100 * Number(point.coverageProbability);
  const k: Explanation = {
    symbol: 'k',
    label: `coverage factor for ${percent} %`,
    formula: 't((1 + P)/2, ν_eff)',
    value: point.coverageFactor,
    unit: '1',
    source: 'jcgm-100-2008',
    locator: 'G.3.2',
    parts: [
      leaf('P', 'coverage probability', Number(point.coverageProbability), '1', { typed: point.coverageProbability }),
      {
        symbol: 'ν_eff',
        label:
          point.effectiveDegreesOfFreedom === null
            ? 'effective degrees of freedom, infinite'
            : 'effective degrees of freedom',
        formula: 'u_c⁴/Σ(u⁴/ν)',
        value: point.effectiveDegreesOfFreedom,
        unit: '1',
        source: 'jcgm-100-2008',
        locator: 'G.4.1',
        parts: [],
      },
    ],
  };
  return {
    symbol: 'U',
    label: 'expanded uncertainty of the mean',
    formula: 'k·u_c',
    value: point.expandedUncertaintyMl,
    unit: 'mL',
    parts: [k, combined],
  };
}

function toleranceLeaf(record: CalibrationRecord, point: PointResult): Explanation {
  const { tolerance } = record.vessel;
  const typed = tolerance?.markedMl ?? tolerance?.markedPercent;
  const origin = typed == null ? ({ source: 'iso-384-2015', locator: `${tolerance?.standard}` } as const) : { typed };
  return leaf('T', 'tolerance', point.toleranceMl, 'mL', origin);
}

function probabilityOf(
  record: CalibrationRecord,
  point: PointResult,
  bias: Explanation,
  combined: Explanation | null,
): Explanation | null {
  if (point.probabilityOfConformity === null || combined === null) return null;
  return {
    symbol: 'p',
    label: 'probability that the true error lies within the tolerance',
    formula: 'F((T − b)/u_c) − F((−T − b)/u_c), Student t with ν_eff',
    value: point.probabilityOfConformity,
    unit: '1',
    source: 'jcgm-106-2012',
    locator: '7.2 and 7.3',
    parts: [toleranceLeaf(record, point), bias, combined],
  };
}

function sdOf(point: PointResult, mean: Explanation): Explanation | null {
  if (point.sdMl === null) return null;
  return {
    symbol: 's',
    label: 'spread of single trials',
    formula: '√(Σ(V − V̄)²/(n − 1))',
    value: point.sdMl,
    unit: 'mL',
    source: 'jcgm-100-2008',
    locator: '4.2.2',
    parts: mean.parts,
  };
}

/**
 * Mean, bias, spread, uncertainty and probability of a point, each unfolded down to typed digits and sources.
 * @source jcgm-100-2008, 4.2, 5.1 and annex G
 */
export function explainPoint(
  record: CalibrationRecord,
  point: PointResult,
  trials: readonly TrialResult[],
): PointExplanation {
  const none = { mean: null, bias: null, sd: null };
  if (point.meanMl === null) {
    return { ...none, combinedUncertainty: null, expandedUncertainty: null, probabilityOfConformity: null };
  }
  const counted = trials.filter((trial) => trial.exclusion == null && sameDecimal(trial.pointMl, point.pointMl));
  const mean: Explanation = {
    symbol: 'V̄',
    label: `mean of ${point.n} of ${point.nRecorded}`,
    formula: 'ΣV/n',
    value: point.meanMl,
    unit: 'mL',
    source: 'jcgm-100-2008',
    locator: '4.2.1',
    parts: counted.map((trial) => explainTrial(record, trial)),
  };
  const nominal = leaf('Vnom', 'test point', numberOf(point.pointMl), 'mL', { typed: point.pointMl });
  const bias: Explanation = {
    symbol: 'b',
    label: 'bias',
    formula: 'V̄ − Vnom',
    value: point.biasMl,
    unit: 'mL',
    parts: [mean, nominal],
  };
  const combined = combinedOf(record, point);
  return {
    mean,
    bias,
    sd: sdOf(point, mean),
    combinedUncertainty: combined,
    expandedUncertainty: expandedOf(point, combined),
    probabilityOfConformity: probabilityOf(record, point, bias, combined),
  };
}
