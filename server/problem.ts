import { PROBLEMS, type ProblemCode } from './problem-codes.ts';

/** One refused field: `pointer` is a JSON pointer fragment into the request body, `#/filledG`. */
export interface FieldProblem {
  pointer: string;
  detail: string;
  /** Name to send in `confirm`, on questions only. */
  confirm?: string;
}

interface ProblemExtras {
  detail?: string;
  errors?: FieldProblem[];
  /** Further members of the answer, for example the present record of a stale edit. */
  members?: Record<string, unknown>;
  headers?: Record<string, string>;
}

/** A refusal by the software. Becomes `application/problem+json` (RFC 9457) in the one error handler. */
export class Problem extends Error {
  readonly code: ProblemCode;
  readonly status: number;
  readonly extras: ProblemExtras;

  constructor(code: ProblemCode, extras: ProblemExtras = {}) {
    super(extras.detail ?? PROBLEMS[code].title);
    this.name = 'Problem';
    this.code = code;
    this.status = PROBLEMS[code].status;
    this.extras = extras;
  }

  /** The body on the wire; `instance` is the request's id. */
  body(instance: string): Record<string, unknown> {
    return {
      type: `/problems/${this.code}`,
      title: PROBLEMS[this.code].title,
      status: this.status,
      detail: this.extras.detail ?? PROBLEMS[this.code].meaning,
      instance,
      ...(this.extras.errors ? { errors: this.extras.errors } : {}),
      ...this.extras.members,
    };
  }
}

export const invalid = (errors: FieldProblem[]): Problem =>
  new Problem('validation-failed', { detail: errors.map((error) => error.detail).join(' '), errors });

export const notFound = (what: string): Problem =>
  new Problem('not-found', { detail: `There is no ${what} with this id.` });
