/** Secrets that the server makes: one-time codes for people, tokens for programs and browsers. */
import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';

const ALPHABET = 'abcdefghjkmnpqrstuvwxyz23456789';
const GROUPS = 4;

/** 79 random bits in four groups of letters that are hard to confuse when read aloud. */
export const newCode = (): string =>
  Array.from({ length: GROUPS }, () =>
    Array.from({ length: 4 }, () => ALPHABET[randomInt(ALPHABET.length)]).join(''),
  ).join('-');

/** 256 random bits. */
export const newToken = (): string => randomBytes(32).toString('base64url');

export const hashOf = (secret: string): string => createHash('sha256').update(secret, 'utf8').digest('hex');

/** Capitals, spaces and dashes do not count in a code that is typed. */
export const hashOfCode = (code: string): string =>
  hashOf(code.normalize('NFC').toLowerCase().replaceAll(/[\s-]/gu, ''));

export const sameHash = (one: string, other: string): boolean =>
  one.length === other.length && timingSafeEqual(Buffer.from(one), Buffer.from(other));
