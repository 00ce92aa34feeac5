import { z } from 'zod';
import { calibrationListItem } from '../calibrations/contract.ts';
import { vesselListItem } from '../glassware/contract.ts';
import { lotListItem } from '../lots/contract.ts';
import { instrument } from '../instruments/contract.ts';

/** What wants attention now. Lists are cut at ten; the counts are whole. */
export const today = z.object({
  open: z.array(calibrationListItem),
  counts: z.object({
    vessels: z.number().int(),
    neverCalibrated: z.number().int(),
    openCalibrations: z.number().int(),
    trials: z.number().int(),
  }),
  /** Vessels in use whose latest calibration does not pass, and about which nothing was decided since. */
  failing: z.array(vesselListItem),
  /** What is overdue or will be due up to that day, the most overdue first. */
  due: z.object({
    until: z.string(),
    vessels: z.array(vesselListItem),
    vesselCount: z.number().int(),
    instruments: z.array(instrument),
  }),
  /** Deliveries with vessels that are not measured yet. */
  lots: z.array(lotListItem),
  recent: z.array(vesselListItem),
});
export type Today = z.infer<typeof today>;
