import { z } from 'zod';
import { VESSEL_KINDS } from '../metrology/record.ts';

export const referenceBook = z.object({
  formulas: z.array(
    z.object({
      id: z.string(),
      title: z.string(),
      formula: z.string(),
      meaning: z.string(),
      symbols: z.array(z.object({ symbol: z.string(), meaning: z.string(), unit: z.string() })),
      range: z.string(),
      source: z.string(),
      locator: z.string(),
      version: z.string(),
    }),
  ),
  sources: z.array(
    z.object({
      key: z.string(),
      authors: z.string(),
      title: z.string(),
      year: z.number().int(),
      place: z.string(),
      doi: z.string().nullable(),
    }),
  ),
  materials: z.array(
    z.object({ material: z.string(), expansionPerK: z.number().nullable(), relativeHalfWidth: z.number() }),
  ),
  findings: z.array(z.object({ code: z.string(), meaning: z.string() })),
});
export type ReferenceBook = z.infer<typeof referenceBook>;

export const toleranceRow = z.object({
  standard: z.string(),
  edition: z.string(),
  kind: z.string(),
  class: z.string(),
  nominalVolumeMl: z.number().nullable(),
  divisionMl: z.number().nullable(),
  toleranceMl: z.number().nullable(),
  tolerancePercent: z.number().nullable(),
  basis: z.enum(['contain', 'deliver', 'either']),
  verification: z.string(),
  readInStandard: z.boolean(),
  waitingTimeS: z.number().nullable(),
  neckDiameterMaxMm: z.number().nullable(),
  note: z.string().nullable(),
});
export type ToleranceRowOnWire = z.infer<typeof toleranceRow>;
export const toleranceTable = z.object({ version: z.string(), items: z.array(toleranceRow) });
export const toleranceQuery = z.strictObject({ kind: z.enum(VESSEL_KINDS).optional() });

export const problemList = z.object({
  items: z.array(z.object({ code: z.string(), status: z.number().int(), title: z.string(), meaning: z.string() })),
});
