import { ratioOf, varianceComponent } from './one-way.ts';
import type { VarianceComponent } from './one-way.ts';

/** The trials of one hand with one vessel. */
export interface CrossedCell {
  hand: string;
  vessel: string;
  trialsMl: readonly number[];
}

/** Why cells are no crossed design: every hand must fill every vessel, equally often and at least twice. */
export interface NotCrossed {
  outcome: 'not-crossed';
  cause: 'too-few-hands' | 'too-few-vessels' | 'cell-missing' | 'one-trial' | 'unequal-trials';
  /** The cell it was seen at; null where none is to be named. */
  hand: string | null;
  vessel: string | null;
  /** One plain sentence. */
  detail: string;
}

interface MeanSquare {
  ssMl2: number;
  df: number;
  meanSquareMl2: number;
  /** Against the line below it; null for the last line, and where nothing spreads. */
  f: number | null;
  p: number | null;
}

/** Two-way analysis of variance, hands and vessels both drawn at random. */
export interface Crossed {
  outcome: 'crossed';
  hands: number;
  vessels: number;
  trialsPerCell: number;
  meanMl: number;
  /** Mean of each hand and of each vessel, in the order they first occur. */
  handMeans: { key: string; meanMl: number }[];
  vesselMeans: { key: string; meanMl: number }[];
  /** Whether the interaction was counted as repeatability; then its lines are null. */
  interactionPooled: boolean;
  meanSquares: { hands: MeanSquare; vessels: MeanSquare; interaction: MeanSquare | null; repeatability: MeanSquare };
  components: {
    hands: VarianceComponent;
    vessels: VarianceComponent;
    interaction: VarianceComponent | null;
    repeatability: VarianceComponent;
  };
  /** Spread of one trial of one vessel by any hand, mL. */
  anyHandSdMl: number;
  /** Spread of one trial of any vessel by any hand, mL. */
  anyHandAnyVesselSdMl: number;
  /** Standard uncertainty of the mean of all trials, hands and vessels drawn at random. */
  meanUncertaintyMl: number;
}

interface Table {
  hands: string[];
  vessels: string[];
  /** hands × vessels × trials, freed of the first value. */
  values: number[][][];
  first: number;
}

function not(cause: NotCrossed['cause'], detail: string, hand: string | null = null, vessel: string | null = null) {
  return { outcome: 'not-crossed', cause, hand, vessel, detail } satisfies NotCrossed;
}

/** The cells as a table, or why they are none. Trials of a cell given twice are taken together. */
function tableOf(cells: readonly CrossedCell[]): Table | NotCrossed {
  const filled = cells.filter((cell) => cell.trialsMl.length > 0);
  const hands = [...new Set(filled.map((cell) => cell.hand))];
  const vessels = [...new Set(filled.map((cell) => cell.vessel))];
  if (hands.length < 2) return not('too-few-hands', 'Hands can be told apart from two hands on.');
  if (vessels.length < 2) return not('too-few-vessels', 'Vessels can be told apart from two vessels on.');
  const first = filled[0]?.trialsMl[0] ?? 0;
  let count: number | null = null;
  const values: number[][][] = [];
  for (const hand of hands) {
    const line: number[][] = [];
    for (const vessel of vessels) {
      const own = filled.filter((cell) => cell.hand === hand && cell.vessel === vessel);
      const trials = own.flatMap((cell) => cell.trialsMl.map((value) => value - first));
      if (trials.length === 0) {
        return not('cell-missing', `${hand} has no trial with ${vessel}. Every hand fills every vessel.`, hand, vessel);
      }
      if (!trials.every(Number.isFinite)) throw new RangeError('crossed needs finite values');
      count ??= trials.length;
      if (trials.length !== count) {
        const detail = `${hand} has ${trials.length} trials with ${vessel}, others have ${count}. All need equally many.`;
        return not('unequal-trials', detail, hand, vessel);
      }
      line.push(trials);
    }
    values.push(line);
  }
  if (count === 1) return not('one-trial', 'One trial with each vessel shows no repeatability. Two are needed.');
  return { hands, vessels, values, first };
}

function mean(values: readonly number[]): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}

function squares(values: readonly number[]): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}

interface Sums {
  grand: number;
  ofHands: number[];
  ofVessels: number[];
  ss: { hands: number; vessels: number; interaction: number; repeatability: number };
}

function sumsOf({ values, vessels }: Table, perCell: number): Sums {
  const cells = values.map((line) => line.map(mean));
  const ofHands = cells.map(mean);
  const ofVessels = vessels.map((_, at) => mean(cells.map((line) => line[at] ?? 0)));
  const grand = mean(ofHands);
  const left = cells.flatMap((line, hand) =>
    line.map((cell, vessel) => cell - (ofHands[hand] ?? 0) - (ofVessels[vessel] ?? 0) + grand),
  );
  const within = values.flatMap((line, hand) =>
    line.flatMap((trials, vessel) => trials.map((value) => value - (cells[hand]?.[vessel] ?? 0))),
  );
  return {
    grand,
    ofHands,
    ofVessels,
    ss: {
      hands: vessels.length * perCell * squares(ofHands.map((value) => value - grand)),
      vessels: values.length * perCell * squares(ofVessels.map((value) => value - grand)),
      interaction: perCell * squares(left),
      repeatability: squares(within),
    },
  };
}

function line(ssMl2: number, df: number, below: MeanSquare | null): MeanSquare {
  const meanSquareMl2 = ssMl2 / df;
  if (below === null) return { ssMl2, df, meanSquareMl2, f: null, p: null };
  const lower = { meanSquare: below.meanSquareMl2, df: below.df };
  return { ssMl2, df, meanSquareMl2, ...ratioOf({ meanSquare: meanSquareMl2, df }, lower) };
}

/**
 * Hands against vessels, both at random, from cells of equally many trials:
 * σ²_hands = (MS_hands − MS_i)/(b·n), σ²_vessels = (MS_vessels − MS_i)/(a·n), σ²_i = (MS_i − MS_r)/n, σ²_r = MS_r,
 * with a hands, b vessels, n trials a cell. F of hands and vessels is against the interaction, that of the
 * interaction against repeatability. Negative components count as 0 and say so.
 * @param interaction `kept` (each component stands for itself), or `pooled`: counted as repeatability, for a class that
 *   has seen that no hand treats one vessel otherwise than another
 * @returns the analysis, or why the cells are no crossed design
 * @throws RangeError when a value is not finite
 * @source montgomery-runger-2003, supplement S14, equations (S14-3) to (S14-6)
 */
export function crossed(cells: readonly CrossedCell[], interaction: 'kept' | 'pooled' = 'kept'): Crossed | NotCrossed {
  const table = tableOf(cells);
  if ('outcome' in table) return table;
  const [a, b, n] = [table.hands.length, table.vessels.length, table.values[0]?.[0]?.length ?? 0];
  const { grand, ofHands, ofVessels, ss } = sumsOf(table, n);
  const pooled = interaction === 'pooled';
  const [dfInteraction, dfRepeatability] = [(a - 1) * (b - 1), a * b * (n - 1)];
  const repeatability = pooled
    ? line(ss.repeatability + ss.interaction, dfRepeatability + dfInteraction, null)
    : line(ss.repeatability, dfRepeatability, null);
  const ofInteraction = pooled ? null : line(ss.interaction, dfInteraction, repeatability);
  const below = ofInteraction ?? repeatability;
  const meanSquares = {
    hands: line(ss.hands, a - 1, below),
    vessels: line(ss.vessels, b - 1, below),
    interaction: ofInteraction,
    repeatability,
  };
  const over = (upper: MeanSquare, lower: MeanSquare, count: number) =>
    varianceComponent((upper.meanSquareMl2 - lower.meanSquareMl2) / count);
  const components = {
    hands: over(meanSquares.hands, below, b * n),
    vessels: over(meanSquares.vessels, below, a * n),
    interaction: ofInteraction === null ? null : over(ofInteraction, repeatability, n),
    repeatability: varianceComponent(repeatability.meanSquareMl2),
  };
  const ofOneCell = (components.interaction?.sdMl ?? 0) ** 2;
  const anyHand = components.hands.sdMl ** 2 + ofOneCell + components.repeatability.sdMl ** 2;
  const ofMean =
    components.hands.sdMl ** 2 / a +
    components.vessels.sdMl ** 2 / b +
    (ofOneCell + components.repeatability.sdMl ** 2 / n) / (a * b);
  const named = (keys: readonly string[], means: readonly number[]) =>
    keys.map((key, index) => ({ key, meanMl: table.first + (means[index] ?? 0) }));
  return {
    outcome: 'crossed',
    hands: a,
    vessels: b,
    trialsPerCell: n,
    meanMl: table.first + grand,
    handMeans: named(table.hands, ofHands),
    vesselMeans: named(table.vessels, ofVessels),
    interactionPooled: pooled,
    meanSquares,
    components,
    anyHandSdMl: Math.sqrt(anyHand),
    anyHandAnyVesselSdMl: Math.sqrt(anyHand + components.vessels.sdMl ** 2),
    meanUncertaintyMl: Math.sqrt(ofMean),
  };
}
