/** Results as the wire shows them: points, trials, budget, capability, explanations, the referee's word. */
import { z } from 'zod';
import { BASES, DECISION_RULES, EMPTY_SOURCES, EMPTY_STATES, EXCLUSION_CAUSES } from '../metrology/record.ts';
import { REFEREE_OUTCOMES } from '../metrology/referee.ts';
import { VERDICTS } from '../metrology/result.ts';
import { finding } from '../wire.ts';

const budgetLine = z.object({
  component: z.string(),
  value: z.number().nullable(),
  unit: z.string(),
  standardUncertainty: z.number(),
  distribution: z.string(),
  degreesOfFreedom: z.number().nullable(),
  sensitivity: z.number(),
  contributionMl: z.number(),
  source: z.string(),
  assumed: z.boolean(),
});

const verdict = z.enum(VERDICTS).nullable();
const repeatabilityUsed = z.object({
  kind: z.enum(['own', 'pooled', 'predicted']),
  sdMl: z.number(),
  degreesOfFreedom: z.number(),
});

/** What a set-up can decide before the first weighing. */
export const capability = z.object({
  points: z.array(
    z.object({
      pointMl: z.string(),
      plannedTrials: z.number().int(),
      toleranceMl: z.number().nullable(),
      /** Random limit of a piston pipette; null for other ware. */
      randomLimitMl: z.number().nullable(),
      repeatability: repeatabilityUsed,
      combinedUncertaintyMl: z.number(),
      effectiveDegreesOfFreedom: z.number().nullable(),
      coverageFactor: z.number(),
      expandedUncertaintyMl: z.number(),
      ratio: z.number().nullable(),
      decidableAtZeroError: z.boolean().nullable(),
      passPossibleWithinMl: z.number().nullable(),
      largestComponent: z.string(),
      largestShare: z.number(),
      trialsForThird: z.number().int().nullable(),
      trialsForDecision: z.number().int().nullable(),
      balances: z.array(
        z.object({ id: z.string(), tag: z.string(), expandedUncertaintyMl: z.number(), does: z.boolean() }),
      ),
      budget: z.array(budgetLine),
      findings: z.array(finding),
    }),
  ),
  decidable: z.boolean().nullable(),
});
export type CapabilityOnWire = z.infer<typeof capability>;

const drawn = z.object({
  draws: z.number().int(),
  mean: z.number(),
  standardUncertainty: z.number(),
  low: z.number(),
  high: z.number(),
  stable: z.boolean(),
  seed: z.number().int(),
});

/** The referee's word: draws of the whole model beside the budget's interval. */
export const refereeReply = z.object({
  pointMl: z.string(),
  seed: z.number().int(),
  outcome: z.enum(REFEREE_OUTCOMES),
  toleranceMl: z.number(),
  gum: z.object({ low: z.number(), high: z.number(), standardUncertainty: z.number() }),
  drawn: drawn.nullable(),
  lowDifferenceMl: z.number().nullable(),
  highDifferenceMl: z.number().nullable(),
  student: drawn.nullable(),
});

/** What one more trial would bring, per point. */
export const oneMore = z.object({
  trials: z.number().int(),
  expandedUncertaintyMl: z.number(),
  plannedTrials: z.number().int(),
  plannedUncertaintyMl: z.number(),
  verdictCouldChange: z.boolean(),
});

/** A number with the way to it; `parts` are numbers of the same kind, down to typed digits and sourced constants. */
export const explanation = z.object({
  symbol: z.string(),
  label: z.string(),
  formula: z.string().nullable(),
  value: z.number().nullable(),
  unit: z.string(),
  typed: z.string().optional(),
  assumed: z.boolean().optional(),
  source: z.string().optional(),
  locator: z.string().optional(),
  get parts() {
    return z.array(explanation);
  },
});
// It holds itself: the API document needs a name for it.
z.globalRegistry.add(explanation, { id: 'Explanation' });

export const explanations = z.object({
  points: z.array(
    z.object({
      pointMl: z.string(),
      mean: explanation.nullable(),
      bias: explanation.nullable(),
      sd: explanation.nullable(),
      combinedUncertainty: explanation.nullable(),
      expandedUncertainty: explanation.nullable(),
      probabilityOfConformity: explanation.nullable(),
    }),
  ),
  trials: z.array(z.object({ number: z.number().int(), volume: explanation, simpleVolume: explanation })),
});

export const pointResult = z.object({
  pointMl: z.string(),
  n: z.number().int(),
  nRecorded: z.number().int(),
  meanMl: z.number().nullable(),
  biasMl: z.number().nullable(),
  biasPercent: z.number().nullable(),
  sdMl: z.number().nullable(),
  cvPercent: z.number().nullable(),
  smallestMl: z.number().nullable(),
  largestMl: z.number().nullable(),
  simpleMeanMl: z.number().nullable(),
  combinedUncertaintyMl: z.number().nullable(),
  effectiveDegreesOfFreedom: z.number().nullable(),
  coverageFactor: z.number().nullable(),
  coverageProbability: z.string(),
  expandedUncertaintyMl: z.number().nullable(),
  /** Standard uncertainty of one single use, which scatters by s as well; U above is of the mean volume. */
  singleUseUncertaintyMl: z.number().nullable(),
  repeatability: repeatabilityUsed.nullable(),
  toleranceMl: z.number().nullable(),
  probabilityOfConformity: z.number().nullable(),
  verdict,
  /** Piston pipettes: spread against the random limit. Absent in results of the model before. */
  randomError: z
    .object({
      limitMl: z.number(),
      verdict: z.enum(['pass', 'fail', 'not-decidable']),
      systematicVerdict: z.enum(VERDICTS),
    })
    .nullish(),
  verdictWithExcluded: verdict,
  meetsClass: z.string().nullable(),
  budget: z.array(budgetLine),
  findings: z.array(finding),
});

export const trialResult = z.object({
  number: z.number().int(),
  pointMl: z.string(),
  emptyG: z.string(),
  filledG: z.string(),
  waterTemperatureC: z.string(),
  waterTemperatureHalfWidthC: z.string().nullish(),
  waterTemperatureSource: z.enum(['carried']).nullish(),
  emptySource: z.enum(EMPTY_SOURCES).nullish(),
  emptyOf: z.number().int().nullish(),
  emptyState: z.enum(EMPTY_STATES).nullish(),
  airTemperatureC: z.string().nullish(),
  airPressureHpa: z.string().nullish(),
  relativeHumidityPercent: z.string().nullish(),
  deliveryTimeS: z.string().nullish(),
  waitingTimeS: z.string().nullish(),
  openTimeS: z.string().nullish(),
  tip: z.string().nullish(),
  channel: z.number().int().nullish(),
  drainPosition: z.string().nullish(),
  note: z.string().nullish(),
  used: z.object({ emptyG: z.string(), filledG: z.string(), waterTemperatureC: z.string() }),
  /** Readings with the instruments' corrections applied. */
  corrected: z.object({ emptyG: z.number(), filledG: z.number(), waterTemperatureC: z.number() }),
  air: z.object({
    temperatureC: z.number(),
    pressureHpa: z.number(),
    relativeHumidityPercent: z.number(),
    measured: z.object({ temperature: z.boolean(), pressure: z.boolean(), humidity: z.boolean() }),
  }),
  evaporationG: z.number(),
  massG: z.number(),
  waterDensityGPerMl: z.number(),
  airDensityGPerMl: z.number(),
  volumeMl: z.number(),
  simpleVolumeMl: z.number(),
  findings: z.array(finding),
  recordedAt: z.string().nullish(),
  recordedBy: z.string().nullish(),
  corrections: z.array(
    z.object({
      field: z.string(),
      value: z.string(),
      reason: z.string(),
      recordedAt: z.string().nullish(),
      recordedBy: z.string().nullish(),
    }),
  ),
  exclusion: z
    .object({
      cause: z.enum(EXCLUSION_CAUSES),
      reason: z.string(),
      recordedAt: z.string().nullish(),
      recordedBy: z.string().nullish(),
    })
    .nullable(),
});

export const result = z.object({
  basis: z.enum(BASES),
  decisionRule: z.enum(DECISION_RULES),
  points: z.array(pointResult),
  trials: z.array(trialResult),
  difference: z
    .object({ valueMl: z.number(), expandedUncertaintyMl: z.number(), verdict: z.enum(VERDICTS) })
    .nullable(),
  verdict,
  final: z.boolean(),
  findings: z.array(finding),
  versions: z.object({ model: z.string(), waterDensity: z.string(), airDensity: z.string(), tolerances: z.string() }),
});
export type TrialOnWire = z.infer<typeof trialResult>;
export type PointOnWire = z.infer<typeof pointResult>;
