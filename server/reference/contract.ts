import { z } from 'zod';
import { VESSEL_KINDS } from '../metrology/record.ts';

/** Plain text in which `x_w` is x with the index w and `x^2` a power; each line is one equation. */
const equation = z.string();

export const formula = z.object({
  id: z.string(),
  title: z.string(),
  formula: equation,
  meaning: z.string(),
  symbols: z.array(z.object({ symbol: z.string(), meaning: z.string(), unit: z.string() })),
  /** Fixed numbers of the formula, each with where it comes from. */
  constants: z.array(
    z.object({
      symbol: z.string(),
      value: z.number(),
      unit: z.string(),
      standardUncertainty: z.number().nullable(),
      source: z.string(),
      locator: z.string(),
    }),
  ),
  range: z.string(),
  /** Key in `sources`, or `common-practice`. */
  source: z.string(),
  locator: z.string(),
  version: z.string(),
});
export type Formula = z.infer<typeof formula>;

export const referenceBook = z.object({
  formulas: z.array(formula),
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
    z.object({
      material: z.string(),
      expansionPerK: z.number().nullable(),
      relativeHalfWidth: z.number(),
      plastic: z.boolean(),
      source: z.string().nullable(),
      locator: z.string().nullable(),
    }),
  ),
  /** What is taken where nothing is known, by name. */
  assumptions: z.array(
    z.object({ name: z.string(), value: z.number(), unit: z.string(), source: z.string(), locator: z.string() }),
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
  /** Shortest and longest time of delivery, where the standard names them. */
  deliveryTimeS: z.object({ min: z.number(), max: z.number().nullable() }).nullable(),
  /** Random limit of piston pipettes. */
  randomMl: z.number().nullable(),
  /** Keys of the list of sources beside the rows. */
  sources: z.array(z.string()),
  note: z.string().nullable(),
});
export type ToleranceRowOnWire = z.infer<typeof toleranceRow>;
export const toleranceTable = z.object({
  version: z.string(),
  items: z.array(toleranceRow),
  standards: z.array(z.object({ id: z.string(), title: z.string(), edition: z.string(), note: z.string() })),
  /** Where the rows were read, and how much of it was seen. */
  sources: z.array(z.object({ key: z.string(), title: z.string(), kind: z.string(), seen: z.string() })),
});
export type ToleranceTable = z.infer<typeof toleranceTable>;
export const toleranceQuery = z.strictObject({ kind: z.enum(VESSEL_KINDS).optional() });

export const problemList = z.object({
  items: z.array(z.object({ code: z.string(), status: z.number().int(), title: z.string(), meaning: z.string() })),
});

export const health = z.object({ status: z.literal('ok'), version: z.string() });
export type Health = z.infer<typeof health>;

/** The document itself is described by OpenAPI 3.1, not here. */
export const openApiDocument = z.looseObject({ openapi: z.string() });
