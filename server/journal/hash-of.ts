import { createHash } from 'node:crypto';
import { canonicalJson } from './canonical.ts';

/**
 * Binds an entry or a signature to what it is about: lower-case hex of SHA-256 over the RFC 8785 text of the value.
 * @throws NotCanonical for a number that is not finite
 */
export const hashOf = (value: unknown): string =>
  createHash('sha256').update(canonicalJson(value), 'utf8').digest('hex');
