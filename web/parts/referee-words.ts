import type { z } from 'zod';
import type { refereeReply } from '../../server/calibrations/contract-result.ts';
import { decimalsFor } from '../../server/metrology/display.ts';

export type RefereeOnWire = z.infer<typeof refereeReply>;

/** One digit more than the numerical tolerance has, so that a difference below it can be seen. */
export const refereeDecimals = (toleranceMl: number): number => Math.max(0, decimalsFor(toleranceMl, 1) + 1);
