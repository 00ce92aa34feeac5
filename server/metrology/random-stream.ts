import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Numbers thrown away after seeding: the first ones of a small seed are still alike. */
const WARM_UP = 64;
const TWO_TO_MINUS_31 = 2 ** -31;
const TWO_TO_MINUS_24 = 2 ** -24;

/** Layers of the ziggurat, the edge of its tail, and the area of each layer. */
const LAYERS = 128;
const TAIL = 3.442619855899;
const AREA = 9.91256303526217e-3;

/** Edges of the layers and the share of each that lies under the curve for certain. */
const EDGE = new Float64Array(LAYERS + 1);
const INSIDE = new Float64Array(LAYERS);

function density(x: number): number {
  return Math.exp(-0.5 * x * x);
}

EDGE[0] = AREA / density(TAIL);
EDGE[1] = TAIL;
for (let layer = 2; layer < LAYERS; layer += 1) {
  const outer = EDGE[layer - 1] as number;
  EDGE[layer] = Math.sqrt(-2 * Math.log(AREA / outer + density(outer)));
}
for (let layer = 0; layer < LAYERS; layer += 1) INSIDE[layer] = (EDGE[layer + 1] as number) / (EDGE[layer] as number);

/**
 * A stream of random numbers that its seed names: the generator of pure-rand, stepped here in long runs, which is
 * several times faster than one call a number. The sequence is that of the library to the last bit.
 */
export class RandomStream {
  readonly seed: number;
  #s01: number;
  #s00: number;
  #s11: number;
  #s10: number;
  #bits = new Int32Array(0);

  /** @param seed a 32-bit integer */
  constructor(seed: number) {
    const generator = xoroshiro128plus(seed);
    for (let skipped = 0; skipped < WARM_UP; skipped += 1) generator.next();
    const [s01 = 0, s00 = 0, s11 = 0, s10 = 0] = generator.getState();
    this.seed = seed;
    this.#s01 = s01;
    this.#s00 = s00;
    this.#s11 = s11;
    this.#s10 = s10;
  }

  /** The next 32-bit integers of the stream, written over `target`. */
  fillBits(target: Int32Array): void {
    let [s01, s00, s11, s10] = [this.#s01, this.#s00, this.#s11, this.#s10];
    for (let index = 0; index < target.length; index += 1) {
      target[index] = s00 + s10;
      const a0 = s10 ^ s00;
      const a1 = s11 ^ s01;
      const high = s01;
      s01 = (s01 << 24) ^ (s00 >>> 8) ^ a1 ^ ((a1 << 16) | (a0 >>> 16));
      s00 = (s00 << 24) ^ (high >>> 8) ^ a0 ^ (a0 << 16);
      s10 = (a1 << 5) ^ (a0 >>> 27);
      s11 = (a0 << 5) ^ (a1 >>> 27);
    }
    this.#s01 = s01;
    this.#s00 = s00;
    this.#s11 = s11;
    this.#s10 = s10;
  }

  #one = new Int32Array(1);

  /** One number of the stream, above 0 and below 1. */
  uniform(): number {
    this.fillBits(this.#one);
    return ((this.#one[0] as number) + 0.5) * TWO_TO_MINUS_31 * 0.5 + 0.5;
  }

  #run(count: number): Int32Array {
    if (this.#bits.length !== count) this.#bits = new Int32Array(count);
    this.fillBits(this.#bits);
    return this.#bits;
  }

  /** Adds a rectangular number of the given half-width to each element. */
  addRectangular(target: Float64Array, halfWidth: number): void {
    const bits = this.#run(target.length);
    const scale = halfWidth * TWO_TO_MINUS_31;
    for (let index = 0; index < target.length; index += 1) {
      target[index] = (target[index] as number) + ((bits[index] as number) + 0.5) * scale;
    }
  }

  /**
   * Adds a normal number of the given standard deviation to each element, by the ziggurat: seven bits choose the
   * layer, the other twenty-five the place in it.
   * @source marsaglia-tsang-2000, with separate bits for layer and place
   */
  addNormal(target: Float64Array, standardDeviation: number): void {
    const bits = this.#run(target.length);
    for (let index = 0; index < target.length; index += 1) {
      const drawn = bits[index] as number;
      const layer = drawn >>> 25;
      const place = (((drawn << 7) >> 7) + 0.5) * TWO_TO_MINUS_24;
      const sure = Math.abs(place) < (INSIDE[layer] as number);
      const value = sure ? place * (EDGE[layer] as number) : this.#edge(layer, place);
      target[index] = (target[index] as number) + standardDeviation * value;
    }
  }

  /** One standard normal number. */
  normal(): number {
    this.fillBits(this.#one);
    const drawn = this.#one[0] as number;
    const layer = drawn >>> 25;
    const place = (((drawn << 7) >> 7) + 0.5) * TWO_TO_MINUS_24;
    return Math.abs(place) < (INSIDE[layer] as number) ? place * (EDGE[layer] as number) : this.#edge(layer, place);
  }

  /** The rare places at the edge of a layer: the tail, or a closer look at the curve. */
  #edge(layer: number, place: number): number {
    if (layer === 0) return this.#tail(place < 0);
    const outer = EDGE[layer] as number;
    const x = place * outer;
    const inner = EDGE[layer + 1] as number;
    const high = Math.exp(-0.5 * (outer * outer - x * x));
    const low = Math.exp(-0.5 * (inner * inner - x * x));
    return low + this.uniform() * (high - low) < 1 ? x : this.normal();
  }

  #tail(negative: boolean): number {
    for (;;) {
      const x = Math.log(this.uniform()) / TAIL;
      const y = Math.log(this.uniform());
      if (-2 * y >= x * x) return negative ? x - TAIL : TAIL - x;
    }
  }

  /**
   * Adds a Student t number with the given degrees of freedom times a scale to each element: normal over the root of
   * a gamma number, squeezed.
   * @source marsaglia-tsang-2000, normal numbers; gamma by the same authors' squeeze
   */
  addStudent(target: Float64Array, scale: number, degreesOfFreedom: number): void {
    const d = degreesOfFreedom / 2 - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (let index = 0; index < target.length; index += 1) {
      const chiSquareOverNu = (2 * this.#gamma(d, c)) / degreesOfFreedom;
      target[index] = (target[index] as number) + (scale * this.normal()) / Math.sqrt(chiSquareOverNu);
    }
  }

  #gamma(d: number, c: number): number {
    for (;;) {
      const x = this.normal();
      const root = 1 + c * x;
      if (root <= 0) continue;
      const v = root * root * root;
      if (Math.log(this.uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
    }
  }
}
