import { describe, expect, it } from 'vitest';
import { benchText } from '../../web/messages/en-class.ts';
import { readingWords } from '../../web/pages/class/reading-words.ts';

const rule = (mark: 'ring' | 'scale' | 'broad' | 'none', divisionMl: number | null = null, share = 0.1) => ({
  nominalVolumeMl: '25',
  readingRule: { mark, divisionMl, estimatedToMl: mark === 'scale' && divisionMl !== null ? divisionMl * share : null },
});
const { reading } = benchText;

/** The rule of general chemistry texts: all certain digits and one estimated, a tenth of the division. */
describe('how ware is read', () => {
  it.each([
    [0.05, '0.005', '25.000'],
    [0.1, '0.01', '25.00'],
    [0.5, '0.05', '25.00'],
    [1, '0.1', '25.0'],
    [10, '1', '25'],
  ])('with lines every %d mL the last digit is estimated to %s mL', (divisionMl, estimated, example) => {
    expect(readingWords(rule('scale', divisionMl))).toBe(reading.scale(String(divisionMl), estimated, example));
  });

  it('has nothing to estimate at one ring mark, at a broad mark, and where there is no mark', () => {
    expect(readingWords(rule('ring'))).toBe(reading.ring);
    expect(readingWords(rule('broad', 25))).toBe(reading.broad('25'));
    expect(readingWords(rule('none'))).toBe(reading.none);
    expect(readingWords(rule('scale'))).toBe(reading.unlined);
  });
});
