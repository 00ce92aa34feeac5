import { combine } from '../../../server/metrology/component.ts';
import {
  combinedUncertainty,
  coverageFactor,
  effectiveDegreesOfFreedom,
  probabilityOfConformity,
} from '../../../server/metrology/coverage.ts';
import { grubbsCritical } from '../../../server/metrology/outlier.ts';
import { repeatabilityComponent } from '../../../server/metrology/repeatability.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { fixed } from '../../parts/rounding.ts';
import { at, type Calculation } from './calculations.ts';
import { Calculator } from './calculator.tsx';

const words = referenceText.results;

const COMBINED = { name: 'combined', unit: 'mL', start: '0.0034', positive: true } as const;
const DEGREES = { name: 'degrees', unit: '', start: '24', positive: true } as const;

const CALCULATIONS: Record<string, Calculation> = {
  repeatability: {
    inputs: [
      { name: 'spread', unit: 'mL', start: '0.0040', atLeastZero: true },
      { name: 'count', unit: '', start: '10', whole: true, within: [2, 1000] },
    ],
    compute: (values) => {
      const n = at(values, 'count');
      const own = { kind: 'own', sdMl: at(values, 'spread'), degreesOfFreedom: n - 1 } as const;
      const { parts } = repeatabilityComponent(own, n);
      return [{ label: words.ofMean, value: fixed(combine(parts), 5), unit: 'mL' }];
    },
  },
  'degrees-of-freedom': {
    inputs: [
      { name: 'ofMean', unit: 'mL', start: '0.0013', atLeastZero: true },
      { name: 'count', unit: '', start: '10', whole: true, within: [2, 1000] },
      { name: 'others', unit: 'mL', start: '0.0032', atLeastZero: true },
    ],
    compute: (values) => {
      const parts = [
        { contributionMl: at(values, 'ofMean'), degreesOfFreedom: at(values, 'count') - 1 },
        { contributionMl: at(values, 'others'), degreesOfFreedom: null },
      ];
      const degrees = effectiveDegreesOfFreedom(parts);
      return [
        { label: words.combined, value: fixed(combinedUncertainty(parts), 5), unit: 'mL' },
        { label: words.degrees, value: degrees === null ? words.infinite : fixed(degrees, 1), unit: '' },
      ];
    },
  },
  'expanded-uncertainty': {
    inputs: [COMBINED, DEGREES, { name: 'probability', unit: '%', start: '95.45', within: [50, 99.9] }],
    compute: (values) => {
      const k = coverageFactor(at(values, 'probability') / 100, at(values, 'degrees'));
      return [
        { label: words.coverage, value: fixed(k, 3), unit: '' },
        { label: words.expanded, value: fixed(k * at(values, 'combined'), 5), unit: 'mL' },
      ];
    },
  },
  'probability-of-conformity': {
    inputs: [
      { name: 'bias', unit: 'mL', start: '-0.059', signed: true },
      { name: 'tolerance', unit: 'mL', start: '0.100', positive: true },
      COMBINED,
      DEGREES,
    ],
    compute: (values) => {
      const share = probabilityOfConformity(
        at(values, 'bias'),
        at(values, 'tolerance'),
        at(values, 'combined'),
        at(values, 'degrees'),
      );
      return [{ label: words.conformity, value: fixed(100 * share, 2), unit: '%' }];
    },
  },
  'suspected-outlier': {
    inputs: [{ name: 'count', unit: '', start: '10', whole: true, within: [3, 1000] }],
    compute: (values) => [{ label: words.critical, value: fixed(grubbsCritical(at(values, 'count')), 3), unit: '' }],
  },
};

/** The calculators that need quantiles. */
export default function UncertaintyCalculator({ id }: { id: string }) {
  const calculation = CALCULATIONS[id];
  return calculation ? <Calculator id={id} calculation={calculation} /> : null;
}
