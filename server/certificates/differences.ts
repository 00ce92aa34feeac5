/** An issued result computed again from its frozen inputs, and held against the frozen result and the present rows. */
import type { PooledCalibration } from '../calibrations/store-pool.ts';
import { canonicalJson } from '../journal/canonical.ts';
import { hashOf } from '../journal/hash-of.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { finding } from '../metrology/findings.ts';
import type { Finding } from '../metrology/result.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { recordToFreeze } from './freeze.ts';
import type { StoredCertificate } from './store.ts';

const MOST_NAMED = 5;

/** Paths at which two JSON values differ: `points/0/meanMl`. */
const differing = (a: unknown, b: unknown, path = ''): string[] => {
  if (canonicalJson(a) === canonicalJson(b)) return [];
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return [path];
  const names = [...new Set([...Object.keys(a), ...Object.keys(b)])];
  const member = (value: object, name: string): unknown => (value as Record<string, unknown>)[name] ?? null;
  return names.flatMap((name) => differing(member(a, name), member(b, name), path === '' ? name : `${path}/${name}`));
};

const named = (paths: readonly string[]): string =>
  paths.slice(0, MOST_NAMED).join(', ') + (paths.length > MOST_NAMED ? ` and ${paths.length - MOST_NAMED} more` : '');

/** What this program computes otherwise from the same inputs. */
const computedOtherwise = ({ issued }: StoredCertificate): Finding[] => {
  const again = evaluate(issued.record, toleranceRows);
  // A newer model that says the same of this record says nothing otherwise; its name alone is no difference.
  const paths = differing(issued.result, { ...again, versions: issued.result.versions });
  if (paths.length === 0) return [];
  const versions = differing(issued.versions, again.versions);
  const why = versions.length === 0 ? '' : ` It was computed with other versions of: ${named(versions)}.`;
  return [finding('computed-otherwise', `Computed again, these differ: ${named(paths)}.${why}`)];
};

/** What stands otherwise in the record than in what was issued; only the file itself can have been changed. */
const recordedOtherwise = ({ issued }: StoredCertificate, stored: PooledCalibration): Finding[] => {
  const paths = differing(issued.record, recordToFreeze(stored));
  if (paths.length === 0) return [];
  return [finding('recorded-otherwise', `The rows of the record differ from what was issued: ${named(paths)}.`)];
};

/**
 * @param stored the calibration as its rows stand; null where it is open again and may differ
 * @returns one finding for each way in which it differs; none when all is as issued
 */
export const differencesOf = (certificate: StoredCertificate, stored: PooledCalibration | null): Finding[] => {
  const findings = computedOtherwise(certificate);
  if (hashOf(certificate.issued) !== certificate.entry.frozenHash)
    findings.push(finding('frozen-otherwise', 'What was frozen no longer has the hash the journal holds.'));
  if (stored !== null && certificate.state === 'valid') findings.push(...recordedOtherwise(certificate, stored));
  return findings;
};
