/** Typed text into members of a body; what cannot be read is named at its field. */
import { solutionFormText as words } from '../../messages/en-solutions.ts';
import { readNumber, shiftMark } from '../../parts/read-number.ts';
import { useSettled } from '../../parts/use-settled.ts';

export type Problems = Partial<Record<string, string>>;

const PERCENT_PLACES = -2;

export class FieldReader {
  readonly problems: Problems = {};
  /** Those of them about something typed: worth saying before anybody wants to keep it. */
  readonly typedWrong: Problems = {};
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

  /** What stands in the field is wrong as it stands, not merely missing. */
  refuseTyped(field: string, problem: string): '' {
    this.typedWrong[field] ??= problem;
    return this.refuse(field, problem);
  }

  /** Without what is still being looked up. */
  get settledProblems(): Problems {
    return Object.fromEntries(Object.entries(this.problems).filter(([field]) => !this.#awaited.has(field)));
  }

  number(field: string, typed: string, unit = ''): string {
    const read = readNumber(typed, unit);
    if (read.ok) return read.value;
    return typed.trim() === '' ? this.refuse(field, read.problem) : this.refuseTyped(field, read.problem);
  }

  /** The member, or none where nothing was typed. */
  optional<N extends string>(name: N, field: string, typed: string, unit = ''): Partial<Record<N, string>> {
    return typed.trim() === '' ? {} : member(name, this.number(field, typed, unit));
  }

  /** A percentage as the mass fraction it is, digit for digit: `99.5` becomes `0.995`. */
  fraction(field: string, typed: string): string {
    const percent = this.number(field, typed, '%');
    if (percent === '') return '';
    if (Number(percent) < 0 || Number(percent) > 100) return this.refuseTyped(field, words.percentRange);
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

/** A number half typed is not wrong yet. */
const PAUSE_MS = 600;

/** Problems of what was typed, once the typing has come to rest. */
export function useTypedWrong({ typedWrong }: FieldReader): (field: string) => string | undefined {
  const settled = JSON.parse(useSettled(JSON.stringify(typedWrong), PAUSE_MS)) as Problems;
  return (field) => (settled[field] === typedWrong[field] ? typedWrong[field] : undefined);
}
