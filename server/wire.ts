/** Shapes every contract is made of. Quantities travel as decimal text so that no digit of a reading is lost. */
import { z } from 'zod';

const DECIMAL = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)$/;
const LONGEST_QUANTITY = 32;
/** In whatever unit; beyond it the powers of an uncertainty could leave the numbers a computer has. */
const LARGEST_QUANTITY = 1e9;

/** Said alone: what is checked after it would only say the same in other words. */
const last = (error: string) => ({ error, abort: true });

const decimalText = (what: string) =>
  z
    .string({
      error: (issue) =>
        issue.input === undefined
          ? `${what} is missing.`
          : `${what} must be sent as text in quotes, so that no digit is lost.`,
    })
    .max(LONGEST_QUANTITY, last(`${what} has more digits than any instrument shows.`))
    .regex(
      DECIMAL,
      last(`${what} must be a plain number with one decimal point: no letters, exponent, spaces or grouping.`),
    )
    .refine((text) => Math.abs(Number(text)) < LARGEST_QUANTITY, last(`${what} is larger than anything weighed here.`));

/** Any sign, zero allowed. */
export const quantity = (what: string) => decimalText(what);
/** Refused at zero or below. */
export const positive = (what: string) =>
  decimalText(what).refine((text) => Number(text) > 0, `${what} must be above zero.`);
/** Refused below zero; zero allowed. */
export const notNegative = (what: string) =>
  decimalText(what).refine((text) => Number(text) >= 0, `${what} cannot be below zero.`);
/** Refused outside the closed range; `hint` asks what may have gone wrong. */
export const within = (what: string, low: number, high: number, unit: string, hint = '') =>
  decimalText(what).refine(
    (text) => Number(text) >= low && Number(text) <= high,
    `${what} must lie between ${low} and ${high} ${unit}.${hint === '' ? '' : ` ${hint}`}`,
  );

/** Half a surrogate pair has no UTF-8 form: it would come back from the database as another character. */
const isWhole = (text: string): boolean => text.isWellFormed();
const BROKEN = 'holds half a character. Type it again.';

const plainText = (what: string, longest: number) =>
  z
    .string({ error: (issue) => (issue.input === undefined ? `${what} is missing.` : `${what} must be text.`) })
    .max(longest, `${what} is longer than ${longest} characters.`)
    .regex(/^\P{Cc}*$/u, `${what} holds control characters.`)
    .refine(isWhole, `${what} ${BROKEN}`)
    .transform((text) => text.trim().normalize('NFC'));

export const optionalText = (what: string, longest = 200) => plainText(what, longest);
export const requiredText = (what: string, longest = 200) =>
  plainText(what, longest).refine((text) => text.length > 0, `${what} is empty.`);

/** Words to look for in a list. */
export const searchWords = plainText('The search', 80);

/** Free words of several lines: notes. */
export const note = z
  .string({ error: 'The note must be text.' })
  .max(2000, 'The note is longer than 2000 characters.')
  .regex(/^[^\p{Cc}]*(?:[\n\t][^\p{Cc}]*)*$/u, 'The note holds control characters.')
  .refine(isWhole, `The note ${BROKEN}`);

/** Why something was changed; a few letters are not a reason. */
export const reason = plainText('The reason', 500).refine(
  (text) => text.length >= 3,
  'Say why, in a few words: the reason stays in the record.',
);

export const confirmNames = z.array(z.enum(['air-pressure', 'volume', 'tolerance'])).max(3);

/** Whole months from one calibration to the next. */
export const months = (what: string) =>
  z
    .number({ error: `${what} is a whole number of months.` })
    .int(`${what} is a whole number of months.`)
    .min(1, `${what} is at least one month.`)
    .max(600, `${what} is at most 600 months.`);

export const isoDate = (what: string) =>
  z
    .string({ error: `${what} must be a date like 2026-09-14.` })
    .regex(/^\d{4}-\d{2}-\d{2}$/, last(`${what} must be a date like 2026-09-14.`))
    .refine((text) => isCalendarDay(text), `${what} is not a day of the calendar.`);

const isCalendarDay = (text: string): boolean => {
  const time = Date.parse(`${text}T00:00:00Z`);
  return Number.isFinite(time) && new Date(time).toISOString().startsWith(text);
};

export const id = z.string().regex(/^[a-z0-9]{1,40}$/, 'This is not an id of this logbook.');

/** A page of a list; `next` is the cursor of the following page, null on the last one. */
export const page = <T extends z.ZodType>(item: T) => z.object({ items: z.array(item), next: z.string().nullable() });

export const finding = z.object({ code: z.string(), detail: z.string(), trial: z.number().int().optional() });

/** JSON pointer fragment of a zod path: `['trials', 0, 'filledG']` → `#/trials/0/filledG`. */
export const pointerOf = (path: readonly PropertyKey[]): string =>
  ['#', ...path.map((step) => String(step).replaceAll('~', '~0').replaceAll('/', '~1'))].join('/');

const WORLD_UNKNOWN = 'ZZ';
const names = new Intl.DisplayNames(['en'], { type: 'region', fallback: 'none' });

/** Does this code stand for a country today? The names are those of the Unicode CLDR, which follows ISO 3166-1. */
const isCountry = (code: string): boolean =>
  code !== WORLD_UNKNOWN && new Intl.Locale(`und-${code}`).region === code && names.of(code) !== undefined;

/** Alpha-2 code of ISO 3166-1, in capitals. */
export const countryCode = z
  .string({ error: 'The country is two letters, as text.' })
  .trim()
  .toUpperCase()
  .regex(/^[A-Z]{2}$/, { error: 'The country is two letters, as in web addresses: IE, NZ.', abort: true })
  .refine(isCountry, 'No country has this code. Great Britain is GB.');
