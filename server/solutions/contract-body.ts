/** What somebody types to have a solution planned or recorded. */
import { z } from 'zod';
import { COVERAGE_PROBABILITIES } from '../metrology/record.ts';
import { CONCENTRATION_UNITS } from '../metrology/solutions/solid.ts';
import { id, notNegative, optionalText, positive, requiredText, within } from '../wire.ts';

const formula = requiredText('The formula', 80);
const massFraction = (what: string) => positive(what).refine((text) => Number(text) <= 1, `${what} is at most 1.`);
const halfWidth = (what: string) =>
  notNegative(what).refine((text) => Number(text) < 1, `${what} is a mass fraction, as 0.0005.`);
const temperatureC = within('The temperature of the solution', 0, 40, '°C');
const temperatureHalfWidthC = notNegative('The half-width of the temperature').refine(
  (text) => Number(text) <= 20,
  'The half-width of the temperature is at most 20 K.',
);
const yesOrNo = (what: string) => z.boolean({ error: `${what}: say true or false.` });

/** A bottle of a solid. */
const substance = z.strictObject({
  name: requiredText('The name of the substance', 80),
  formula,
  /** What is counted where it is not the whole formula: copper in its sulfate. */
  counted: z
    .strictObject({
      formula,
      perFormula: z
        .number({ error: 'How often it stands in the formula is a whole number.' })
        .int('How often it stands in the formula is a whole number.')
        .min(1, 'It stands at least once in the formula.')
        .max(999, 'It stands at most 999 times in the formula.'),
    })
    .optional(),
  primaryStandard: z.enum(['yes', 'no', 'unknown'], { error: 'A primary standard: yes, no or unknown.' }),
  purity: massFraction('The purity'),
  purityHalfWidth: halfWidth('The half-width of the purity'),
  purityCertified: yesOrNo('A certificate of the purity'),
  waterMassFraction: halfWidth('The water in the solid').optional(),
  waterHalfWidth: halfWidth('The half-width of the water').optional(),
  densityKgPerM3: within('The density of the solid', 100, 25_000, 'kg/m3').optional(),
  lot: optionalText('The lot', 80).optional(),
});
export type SubstanceBody = z.infer<typeof substance>;

const unit = z.enum(CONCENTRATION_UNITS, { error: 'Choose mol/L, g/L, mg/L, g/g or mg/kg.' });
const target = z.strictObject({ value: positive('The concentration wanted'), unit });

/** The solution when the mark is set, and what its concentration is quoted for. */
const temperatures = {
  temperatureC,
  temperatureHalfWidthC,
  quotedAtC: within('The temperature it is quoted at', 0, 40, '°C').default('20'),
  /** Left out, the solution expands as water does. */
  expansionPerK: notNegative('The expansion of the solution')
    .refine((text) => Number(text) <= 0.01, 'The expansion of the solution is per kelvin, as 0.00021.')
    .optional(),
};

const markOf = { vesselId: id, pointMl: positive('The mark').optional() };
const vesselAtMark = z.strictObject(markOf);
export type VesselAtMark = z.infer<typeof vesselAtMark>;

const madeUp = z.discriminatedUnion(
  'by',
  [
    z.strictObject({ by: z.literal('volume'), ...markOf, ...temperatures }),
    z.strictObject({ by: z.literal('mass'), solutionG: positive('The mass of the solution') }),
  ],
  { error: 'Made up by volume or by mass.' },
);

const air = z.strictObject({
  airTemperatureC: within('The air temperature', 5, 40, '°C').optional(),
  airPressureHpa: within('The air pressure', 600, 1100, 'hPa', 'Was it read in kPa or mmHg?').optional(),
  relativeHumidityPercent: within('The relative humidity', 0, 100, '%').optional(),
});
export type AirBody = z.infer<typeof air>;

const weighed = {
  balanceId: id.optional(),
  adjustedToday: yesOrNo('Balance adjusted today').default(false),
  buoyancy: z.enum(['on', 'off'], { error: 'The buoyancy correction is on or off.' }).default('on'),
  air: air.default({}),
};

const all = {
  coverageProbability: z.enum(COVERAGE_PROBABILITIES).optional(),
  /** The expanded uncertainty wanted, as a share of the concentration. */
  accuracyPercent: positive('The accuracy wanted').optional(),
};

/** One bottle weighed and made up. Without a weighing: what to weigh. */
export const solidBody = z.strictObject({
  way: z.literal('solid'),
  substance,
  target,
  madeUp,
  weighing: z.strictObject({ massG: positive('The mass') }).optional(),
  ...weighed,
  ...all,
});
export type SolidBody = z.infer<typeof solidBody>;

/** What stands in a choice says which it is; `from` may be left out. */
const bySaying = <T extends z.ZodType>(saying: (fields: object) => string, choice: T) =>
  z.preprocess(
    (sent) => (typeof sent === 'object' && sent !== null && !('from' in sent) ? { from: saying(sent), ...sent } : sent),
    choice,
  );

const stockFrom = (fields: object): string => {
  if ('preparationId' in fields) return 'preparation';
  return 'formula' in fields || 'densityGPerMl' in fields ? 'label' : 'certificate';
};

const named = { name: requiredText('The name of the stock', 80) };
/** A solution of this record, one of a certificate, or a bottle with its label. */
export const stockBody = bySaying(
  stockFrom,
  z.discriminatedUnion(
    'from',
    [
      z.strictObject({ from: z.literal('preparation'), preparationId: id }),
      z.strictObject({
        from: z.literal('certificate'),
        ...named,
        value: positive('The concentration of the stock'),
        unit: z.enum(['mol/L', 'g/L', 'mg/L'], { error: 'Choose mol/L, g/L or mg/L.' }),
        expandedUncertainty: notNegative('The expanded uncertainty'),
        coverageFactor: positive('The coverage factor').default('2'),
      }),
      z.strictObject({
        from: z.literal('label'),
        ...named,
        formula,
        densityGPerMl: within('The density of the stock', 0.3, 5, 'g/mL'),
        densityHalfWidth: notNegative('The half-width of the density'),
        massFraction: massFraction('The mass fraction'),
        massFractionHalfWidth: halfWidth('The half-width of the mass fraction'),
      }),
    ],
    { error: 'The stock comes from a preparation, a certificate or a label.' },
  ),
);
export type StockBody = z.infer<typeof stockBody>;

export const dilutionBody = z.strictObject({
  way: z.literal('dilution'),
  stock: stockBody,
  steps: z
    .array(
      z.strictObject({
        deliveries: z
          .array(vesselAtMark)
          .min(1, 'A step needs a delivery.')
          .max(10, 'A step has at most 10 deliveries.'),
        madeUpIn: vesselAtMark,
      }),
    )
    .min(1, 'A dilution needs a step.')
    .max(20, 'A dilution has at most 20 steps.'),
  ...temperatures,
  ...all,
});
export type DilutionBody = z.infer<typeof dilutionBody>;

const titration = z.strictObject({
  /** Of the solid standard. */
  massG: positive('The mass').optional(),
  /** What measures out the standard solution. */
  pipette: vesselAtMark.optional(),
  buretteFromMl: notNegative('The reading before'),
  buretteToMl: positive('The reading after'),
});

const standardisation = z.strictObject({
  way: z.literal('standardisation'),
  titrant: z.strictObject({ name: requiredText('The name of the titrant', 80), formula: formula.optional() }),
  standard: bySaying(
    (fields) => ('preparationId' in fields ? 'preparation' : 'solid'),
    z.discriminatedUnion(
      'from',
      [
        z.strictObject({ from: z.literal('solid'), substance }),
        z.strictObject({ from: z.literal('preparation'), preparationId: id }),
      ],
      { error: 'The standard is a solid or a preparation.' },
    ),
  ),
  titrations: z
    .array(titration)
    .min(1, 'A standardisation needs a titration.')
    .max(30, 'A standardisation has at most 30 titrations.'),
  buretteId: id,
  molesPerMole: positive('The moles of titrant for one mole of the standard').default('1'),
  endPointMl: within('The volume at the end point of a blank', -10, 10, 'mL').default('0'),
  endPointHalfWidthMl: notNegative('The half-width of the end point').default('0'),
  /** Relative spread of one titration, where fewer than three were done. */
  repeatabilityPercent: notNegative('The repeatability').default('0'),
  temperatureC,
  temperatureHalfWidthC,
  ...weighed,
  ...all,
});
export type StandardisationBody = z.infer<typeof standardisation>;

const REPLICATES = 'The number of titrations is a whole number from 1 to 30.';
/** A standardisation before its first titration. */
export const standardisationPlan = standardisation.omit({ titrations: true }).extend({
  /** What measures out a standard solution. */
  pipette: vesselAtMark.optional(),
  replicates: z.number({ error: REPLICATES }).int(REPLICATES).min(1, REPLICATES).max(30, REPLICATES).default(3),
});

export const WAYS = ['solid', 'dilution', 'standardisation'] as const;
export const solutionBody = z.discriminatedUnion('way', [solidBody, dilutionBody, standardisation], {
  error: 'Choose a way: solid, dilution or standardisation.',
});
export type SolutionBody = z.infer<typeof solutionBody>;
