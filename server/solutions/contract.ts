/** What a formula and a solution are answered with. */
import { z } from 'zod';
import { explanation } from '../calibrations/contract-result.ts';
import { finding } from '../wire.ts';
import { CAUTIONS } from './contract-cautions.ts';

export { solutionBody, WAYS } from './contract-body.ts';
export type {
  AirBody,
  DilutionBody,
  SolidBody,
  SolutionBody,
  StandardisationBody,
  StockBody,
  SubstanceBody,
  VesselAtMark,
} from './contract-body.ts';

export const formulaQuery = z.strictObject({
  text: z.string({ error: 'The formula is missing.' }).max(80, 'The formula is longer than 80 characters.'),
});

export const formulaReply = z.object({
  /** As it is written here. */
  formula: z.string(),
  atoms: z.array(z.object({ symbol: z.string(), count: z.number().int(), published: z.string() })),
  molarMassGPerMol: z.number(),
  standardUncertaintyGPerMol: z.number(),
  known: z
    .object({
      name: z.string(),
      primaryStandard: z.enum(['yes', 'no']),
      densityKgPerM3: z.number().nullable(),
      cautions: z.array(z.enum(CAUTIONS)),
    })
    .nullable(),
});
export type FormulaReply = z.infer<typeof formulaReply>;

const budgetLine = z.object({
  key: z.string(),
  label: z.string(),
  value: z.number(),
  unit: z.string(),
  standardUncertainty: z.number(),
  distribution: z.string(),
  degreesOfFreedom: z.number().nullable(),
  sensitivity: z.number(),
  contribution: z.number(),
  share: z.number(),
  source: z.string(),
  assumed: z.boolean(),
});

const uncertain = {
  value: z.number(),
  unit: z.string(),
  expandedUncertainty: z.number(),
  coverageFactor: z.number(),
  combinedUncertainty: z.number(),
  effectiveDegreesOfFreedom: z.number().nullable(),
  relativePercent: z.number(),
  /** Digits of the value that go with its uncertainty; two at most where it is approximate. */
  significantDigits: z.number().int(),
};

/** What was used, with the calibration its volume comes from. */
const vesselUsed = z.object({
  vesselId: z.string(),
  tag: z.string(),
  calibrationId: z.string().nullable(),
  /** What it holds or delivers at its reference temperature. */
  volumeMl: z.number(),
  nominalMl: z.number(),
  use: z.enum(['made-up', 'delivered', 'titrated', 'in-stock']),
});

export const solutionResult = z.object({
  way: z.enum(['solid', 'dilution', 'standardisation']),
  ...uncertain,
  coverageProbability: z.string(),
  /** Null where it is a mass in a mass. */
  quotedAtC: z.number().nullable(),
  /** Not yet made: the value and its uncertainty are foreseen. */
  planned: z.boolean(),
  approximate: z.boolean(),
  /** Results of single titrations, mol/L. */
  singles: z.array(z.number()).nullable(),
  /** After each step of a dilution. */
  steps: z.array(z.object(uncertain)).nullable(),
  /** For the concentration wanted; null for other ways than from a solid. */
  toWeigh: z
    .object({
      massG: z.number(),
      /** What the balance shows for it in air. */
      readingG: z.number(),
      minimumLoadG: z.number().nullable(),
      aboveMinimum: z.boolean().nullable(),
    })
    .nullable(),
  vessels: z.array(vesselUsed),
  budget: z.array(budgetLine),
  /** Null where no accuracy was asked for. */
  meetsAccuracy: z.boolean().nullable(),
  cautions: z.array(z.enum(CAUTIONS)),
  findings: z.array(finding),
  explanation,
});
export type SolutionResult = z.infer<typeof solutionResult>;
