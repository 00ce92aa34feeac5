/** How the ware of a row is read, in words: certain digits and one estimated, or one mark with nothing to read. */
import { decimalsFor } from '../../../server/metrology/display.ts';
import type { WareRowOnWire } from '../../../server/experiments/contract.ts';
import { benchText } from '../../messages/en-class.ts';
import { fixed } from '../../parts/rounding.ts';

type Ware = Pick<WareRowOnWire, 'nominalVolumeMl' | 'readingRule'>;

export function readingWords({ nominalVolumeMl, readingRule }: Ware): string {
  const words = benchText.reading;
  const { mark, divisionMl, estimatedToMl } = readingRule;
  if (mark === 'ring') return words.ring;
  if (mark === 'none') return words.none;
  if (mark === 'broad') return words.broad(divisionMl === null ? null : String(divisionMl));
  if (divisionMl === null || estimatedToMl === null) return words.unlined;
  const decimals = decimalsFor(estimatedToMl, 1);
  return words.scale(String(divisionMl), fixed(estimatedToMl, decimals), fixed(Number(nominalVolumeMl), decimals));
}
