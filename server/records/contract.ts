import { z } from 'zod';
import { calibrationListItem } from '../calibrations/contract.ts';
import { vesselListItem } from '../glassware/contract.ts';
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
  /** Vessels whose latest calibration does not pass. */
  failing: z.array(vesselListItem),
  overdueInstruments: z.array(instrument),
  recent: z.array(vesselListItem),
});
export type Today = z.infer<typeof today>;
