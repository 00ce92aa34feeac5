/** How the ware of a row is read, in words: certain digits and one estimated, or one mark with nothing to read. */
import { decimalsFor } from '../../../server/metrology/display.ts';
import type { WareRowOnWire } from '../../../server/experiments/contract.ts';
import { benchText } from '../../messages/en-class.ts';
import { fixed, significant } from '../../parts/rounding.ts';

type Ware = Pick<WareRowOnWire, 'nominalVolumeMl' | 'readingRule'>;

export function readingWords({ nominalVolumeMl, readingRule }: Ware): string {
  const words = benchText.reading;
  const { mark, divisionMl, estimatedToMl } = readingRule;
  if (mark === 'ring') return words.ring;
  if (mark === 'none') return words.none;
  if (mark === 'broad') return words.broad(divisionMl === null ? null : plain(divisionMl));
  if (divisionMl === null || estimatedToMl === null) return words.unlined;
  const decimals = decimalsFor(estimatedToMl, 1);
  return words.scale(plain(divisionMl), fixed(estimatedToMl, decimals), fixed(Number(nominalVolumeMl), decimals));
}

/** 25 as 25, 0.05 as 0.05: a division has no digits beyond its own. */
const plain = (value: number): string =>
  significant(value, Math.max(1, Math.min(3, String(value).replace(/\D/g, '').replace(/^0+/, '').length)));
