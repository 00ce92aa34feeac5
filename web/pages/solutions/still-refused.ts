/** What of a refusal still holds once the form was changed. */
import type { FormRefusal } from '../../parts/refusal.tsx';
import type { Problems } from './reading.ts';

/** The form as it stood: the body that is sent, and what the page itself finds wrong in it. */
export interface FormAt {
  body: object;
  problems: Problems;
}

const partOf = (body: unknown, path: readonly string[]): unknown =>
  path.reduce<unknown>(
    (part, name) => (typeof part === 'object' && part !== null ? (part as Record<string, unknown>)[name] : undefined),
    body,
  );

/** The value of a field with those beside it that it was judged by: the whole row of a reading; one alone by itself. */
const judgedBy = (body: object, field: string): string => {
  const path = field.split('/');
  return JSON.stringify(partOf(body, path.length > 1 ? path.slice(0, -1) : path) ?? body);
};

/**
 * What the page found is looked at again; what the server said holds until the field or its row changes.
 * @param then the form when it was refused
 */
export function stillRefused(refusal: FormRefusal, then: FormAt, now: FormAt): FormRefusal | null {
  const fields = refusal.fields.flatMap((one) => {
    if (then.problems[one.field] === one.detail) {
      const detail = now.problems[one.field];
      return detail === undefined ? [] : [{ ...one, detail }];
    }
    return judgedBy(then.body, one.field) === judgedBy(now.body, one.field) ? [one] : [];
  });
  return fields.length === 0 && refusal.fields.length > 0 ? null : { ...refusal, fields };
}
