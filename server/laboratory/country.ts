import { z } from 'zod';

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
