import { RandomStream } from './random-stream.ts';
import { symmetricInterval } from './selection.ts';

/** One influence to draw, added to the column of its input. */
export interface DrawnPart {
  shape: 'normal' | 'rectangular' | 'student';
  /** Standard deviation, half-width, or scale. */
  spread: number;
  /** Of a Student t part. */
  degreesOfFreedom?: number;
  /** Column it adds to. */
  input: number;
}

/** A model to draw from: deviations of the inputs, column by column, in; values of the output out. */
export interface DrawnModel {
  inputs: number;
  parts: readonly DrawnPart[];
  evaluate: (deviations: readonly Float64Array[], values: Float64Array) => void;
}

export interface DrawOptions {
  /** 32-bit integer that names the stream. */
  seed: number;
  probability: number;
  /** Numerical tolerance at which the draws stop; null draws `mostDraws`. */
  tolerance: number | null;
  /** Multiples of 10 000. */
  leastDraws: number;
  mostDraws: number;
}

export interface DrawnResult {
  draws: number;
  mean: number;
  standardUncertainty: number;
  low: number;
  high: number;
  /** False when the draws ran out before the tolerance was met. */
  stable: boolean;
  seed: number;
}

export const BLOCK = 10_000;
/** Elements worked on at a time, few enough to stay near the processor. */
const CHUNK = 1000;

/** Running mean and sum of squares of block averages. */
class Running {
  n = 0;
  mean = 0;
  #squares = 0;

  add(value: number): void {
    this.n += 1;
    const before = value - this.mean;
    this.mean += before / this.n;
    this.#squares += before * (value - this.mean);
  }

  /** Standard deviation of the mean; infinite below two values. */
  deviationOfMean(): number {
    return this.n < 2 ? Number.POSITIVE_INFINITY : Math.sqrt(this.#squares / (this.n - 1) / this.n);
  }
}

/** Draws a model in blocks, so that a worker can tell how far it is and stop. */
export class MonteCarlo {
  readonly #model: DrawnModel;
  readonly #options: DrawOptions;
  readonly #stream: RandomStream;
  readonly #columns: Float64Array[];
  readonly #chunk = new Float64Array(CHUNK);
  readonly #scratch = new Float64Array(BLOCK);
  #values = new Float64Array(0);
  #blocks = 0;
  #stable = false;
  readonly #averages = { mean: new Running(), variance: new Running(), low: new Running(), high: new Running() };

  constructor(model: DrawnModel, options: DrawOptions) {
    this.#model = model;
    this.#options = options;
    this.#stream = new RandomStream(options.seed);
    this.#columns = Array.from({ length: model.inputs }, () => new Float64Array(CHUNK));
  }

  get draws(): number {
    return this.#blocks * BLOCK;
  }

  get finished(): boolean {
    const { leastDraws, mostDraws } = this.#options;
    return this.draws >= mostDraws || (this.#stable && this.draws >= leastDraws);
  }

  #makeRoom(): void {
    const needed = this.draws + BLOCK;
    if (needed <= this.#values.length) return;
    const larger = new Float64Array(Math.max(needed, Math.min(this.#options.mostDraws, 2 * this.#values.length)));
    larger.set(this.#values.subarray(0, this.draws));
    this.#values = larger;
  }

  #drawChunk(into: Float64Array): void {
    const stream = this.#stream;
    for (const column of this.#columns) column.fill(0);
    for (const { shape, spread, degreesOfFreedom, input } of this.#model.parts) {
      const column = this.#columns[input];
      if (column === undefined) throw new RangeError(`no input ${input}`);
      if (shape === 'rectangular') stream.addRectangular(column, spread);
      else if (shape === 'normal') stream.addNormal(column, spread);
      else stream.addStudent(column, spread, degreesOfFreedom ?? 1);
    }
    this.#model.evaluate(this.#columns, this.#chunk);
    into.set(this.#chunk);
  }

  /** One block of 10 000 draws; then mean, variance and both ends of it. */
  step(): void {
    this.#makeRoom();
    const start = this.draws;
    const block = this.#values.subarray(start, start + BLOCK);
    for (let from = 0; from < BLOCK; from += CHUNK) this.#drawChunk(block.subarray(from, from + CHUNK));
    const { mean, variance } = moments(block);
    this.#scratch.set(block);
    const { low, high } = symmetricInterval(this.#scratch, this.#options.probability);
    const averages = this.#averages;
    averages.mean.add(mean);
    averages.variance.add(variance);
    averages.low.add(low);
    averages.high.add(high);
    this.#blocks += 1;
    this.#stable = this.#isStable();
  }

  #isStable(): boolean {
    const { tolerance } = this.#options;
    if (tolerance === null) return false;
    const { mean, variance, low, high } = this.#averages;
    // deviation of u from that of u², as du = d(u²)/(2u)
    const ofU = variance.deviationOfMean() / (2 * Math.sqrt(variance.mean) || 1);
    return [mean.deviationOfMean(), ofU, low.deviationOfMean(), high.deviationOfMean()].every(
      (deviation) => 2 * deviation < tolerance,
    );
  }

  /** Everything drawn so far, as one sample. Reorders it: call it once, at the end. */
  result(): DrawnResult {
    const all = this.#values.subarray(0, this.draws);
    const { mean, variance } = moments(all);
    const { low, high } = symmetricInterval(all, this.#options.probability);
    const stable = this.#options.tolerance === null || this.#stable;
    return {
      draws: this.draws,
      mean,
      standardUncertainty: Math.sqrt(variance),
      low,
      high,
      stable,
      seed: this.#options.seed,
    };
  }
}

/** Mean and variance of many values, the first taken off all of them before summing. */
function moments(values: Float64Array): { mean: number; variance: number } {
  const first = values[0] as number;
  let sum = 0;
  let squares = 0;
  for (let index = 0; index < values.length; index += 1) {
    const shifted = (values[index] as number) - first;
    sum += shifted;
    squares += shifted * shifted;
  }
  const mean = sum / values.length;
  return { mean: first + mean, variance: (squares - sum * mean) / (values.length - 1) };
}

/**
 * Draws a model to the end: blocks of 10 000 until twice the standard deviation of the mean of the block averages of
 * mean, u and both ends is below the tolerance.
 * @source jcgm-101-2008, 7.9, adaptive procedure
 */
export function drawAll(model: DrawnModel, options: DrawOptions): DrawnResult {
  const run = new MonteCarlo(model, options);
  while (!run.finished) run.step();
  return run.result();
}
