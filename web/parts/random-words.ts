import type { PointOnWire } from '../../server/calibrations/contract.ts';
import { text } from '../messages/en.ts';
import { benchText } from '../messages/en-bench.ts';
import { significant } from './rounding.ts';

/** `systematic: pass · random: fail, spread 0.0034 of 0.003 mL`. */
export const randomWords = (random: NonNullable<PointOnWire['randomError']>, sdMl: number | null): string =>
  benchText.bothErrors(
    text.words.verdicts[random.systematicVerdict],
    text.words.verdicts[random.verdict],
    sdMl === null ? null : significant(sdMl, 2),
    String(random.limitMl),
  );
