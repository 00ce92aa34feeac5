/** What was issued by an older model stands; computing it again tells of what comes out otherwise, and of that alone. */
import { describe, expect, it } from 'vitest';
import { differencesOf } from '../../server/certificates/differences.ts';
import { hashOf } from '../../server/journal/hash-of.ts';
import type { Issued } from '../../server/certificates/issued.ts';
import type { StoredCertificate } from '../../server/certificates/store.ts';
import { evaluate } from '../../server/metrology/evaluate.ts';
import type { CalibrationRecord } from '../../server/metrology/record.ts';
import type { CalibrationResult } from '../../server/metrology/result.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { flask, record, trialsOf } from '../metrology/make.ts';

/** As the model before would have issued it: it knew no random error. */
function issuedBefore(kept: CalibrationRecord, verdict: CalibrationResult['verdict']): StoredCertificate {
  const now = evaluate(kept, toleranceRows);
  const versions = { ...now.versions, model: 'gravimetric-1' };
  const points = now.points.map(({ randomError: _unknown, findings, ...point }) => ({
    ...point,
    verdict,
    findings: findings.filter(({ code }) => code !== 'random-error-outside'),
  }));
  const issued = { record: kept, result: { ...now, points, verdict, versions }, versions } as unknown as Issued;
  return { issued, entry: { number: 1, hash: '', frozenHash: hashOf(issued) } } as unknown as StoredCertificate;
}

describe('an issued result of the model before', () => {
  it('says nothing where the digits are the same', () => {
    const kept = record({ trials: trialsOf(['99.6337', '99.6341', '99.6330']) });
    const verdict = evaluate(kept, toleranceRows).verdict;
    expect(differencesOf(issuedBefore(kept, verdict), null)).toEqual([]);
  });

  it('of a piston pipette that spreads too much names its verdict and the model', () => {
    const kept = record({
      vessel: flask({
        kind: 'piston-pipette',
        nominalVolumeMl: '1',
        basis: 'deliver',
        material: 'polypropylene',
        tolerance: { standard: 'ISO 8655-2', edition: '2002', class: '-' },
      }),
      trials: trialsOf(['0.9969', '1.0009', '0.9929', '1.0009', '0.9929', '0.9969'], { pointMl: '1' }),
    });
    const [difference] = differencesOf(issuedBefore(kept, 'pass'), null);
    expect(difference?.code).toBe('computed-otherwise');
    expect(difference?.detail).toContain('points/0/verdict');
    expect(difference?.detail).toContain('other versions of: model');
  });
});
