/** Typed text into members of a body; what cannot be read is named at its field. */
import { solutionFormText as words } from '../../messages/en-solutions.ts';
import { readNumber, shiftMark } from '../../parts/read-number.ts';

export type Problems = Partial<Record<string, string>>;

const PERCENT_PLACES = -2;

export class FieldReader {
  readonly problems: Problems = {};
  readonly #awaited = new Set<string>();

  refuse(field: string, problem: string): '' {
    this.problems[field] ??= problem;
    return '';
  }

  /** What was typed here is still being looked up: a problem only where the answer stays away. */
  wait(field: string, problem: string): '' {
    if (!(field in this.problems)) this.#awaited.add(field);
    return this.refuse(field, problem);
  }

  /** Nothing is in the way but answers that are still under way. */
  get isOnlyWaiting(): boolean {
    const fields = Object.keys(this.problems);
    return fields.length > 0 && fields.every((field) => this.#awaited.has(field));
  }

  number(field: string, typed: string, unit = ''): string {
    const read = readNumber(typed, unit);
    return read.ok ? read.value : this.refuse(field, read.problem);
  }

  /** The member, or none where nothing was typed. */
  optional<N extends string>(name: N, field: string, typed: string, unit = ''): Partial<Record<N, string>> {
    return typed.trim() === '' ? {} : member(name, this.number(field, typed, unit));
  }

  /** A percentage as the mass fraction it is, digit for digit: `99.5` becomes `0.995`. */
  fraction(field: string, typed: string): string {
    const percent = this.number(field, typed, '%');
    if (percent === '') return '';
    if (Number(percent) < 0 || Number(percent) > 100) return this.refuse(field, words.percentRange);
    return shiftMark(percent, PERCENT_PLACES) ?? percent;
  }

  optionalFraction<N extends string>(name: N, field: string, typed: string): Partial<Record<N, string>> {
    return typed.trim() === '' ? {} : member(name, this.fraction(field, typed));
  }

  text(field: string, typed: string, missing: string): string {
    const plain = typed.trim();
    return plain === '' ? this.refuse(field, missing) : plain;
  }
}

const member = <N extends string>(name: N, value: string): Partial<Record<N, string>> =>
  ({ [name]: value }) as Partial<Record<N, string>>;

/** The member, or none where nothing was typed. */
export const filled = <N extends string>(name: N, typed: string): Partial<Record<N, string>> =>
  typed.trim() === '' ? {} : member(name, typed.trim());
