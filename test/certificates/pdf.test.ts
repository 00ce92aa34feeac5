/** The certificate on paper, read with the programs of others. */
import { describe, expect, it } from 'vitest';
import { certificateXml } from '../../server/certificates/dcc/certificate.ts';
import type { Issued } from '../../server/certificates/issued.ts';
import { certificatePdf } from '../../server/certificates/pdf/certificate.ts';
import type { VesselFacts } from '../../server/metrology/record.ts';
import { flask } from '../metrology/make.ts';
import { attached, checked, noPdfPrograms, pagesOf } from './pdf-programs.ts';
import { ENTRY, flaskRecord, issued, maximal, weighings } from './samples.ts';

const paper = (sample: Issued): Promise<Buffer> => certificatePdf(sample, ENTRY, certificateXml(sample, ENTRY));
const trialsAt = (points: readonly string[], count: number) =>
  points.flatMap((pointMl, at) => weighings(pointMl, Number(pointMl) * 0.9967, count, 0.0005, at * count + 1));

const PIPETTE: VesselFacts = {
  kind: 'piston-pipette',
  nominalVolumeMl: '1',
  basis: 'deliver',
  material: 'polypropylene',
  referenceTemperatureC: '20',
  tolerance: { markedPercent: '0.8' },
  marks: ['0.1', '0.5', '1'],
};
const FIFTY = Array.from({ length: 50 }, (_, at) => String(at + 1));
const CYLINDER: VesselFacts = {
  kind: 'measuring-cylinder',
  nominalVolumeMl: '50',
  basis: 'contain',
  material: 'borosilicate-3.3',
  referenceTemperatureC: '20',
  divisionMl: '1',
  tolerance: { markedMl: '0.5' },
  marks: FIFTY,
};

const SAMPLES: [string, () => Issued][] = [
  ['one point', () => issued()],
  ['five points with their difference, amended', maximal],
  [
    'a piston pipette',
    () =>
      issued(flaskRecord({ vessel: PIPETTE, points: ['0.1', '0.5', '1'], trials: trialsAt(PIPETTE.marks ?? [], 10) })),
  ],
  ['invented data', () => issued(flaskRecord({ trials: weighings('100', 99.66, 60) }), { demonstration: true })],
  ['200 trials', () => issued(flaskRecord({ plannedTrials: 200, trials: weighings('100', 99.66, 200) }))],
  ['50 points', () => issued(flaskRecord({ vessel: CYLINDER, points: FIFTY, trials: trialsAt(FIFTY, 1) }))],
];

describe('every certificate', () => {
  it.for(SAMPLES)('is whole on each page and holds the data: %s', { timeout: 60_000 }, async ([, make], context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const sample = make();
    const pdf = await paper(sample);
    expect(checked(pdf)).toContain('No syntax or stream encoding errors found');
    expect(attached(pdf, `${sample.number}.xml`).equals(certificateXml(sample, ENTRY))).toBe(true);
    const pages = pagesOf(pdf);
    pages.forEach((page, at) => {
      expect(page).toContain(`Certificate ${sample.number}`);
      expect(page).toContain(`page ${at + 1} of ${pages.length}`);
      expect(page.includes('Invented data: demonstration only')).toBe(sample.demonstration);
    });
    expect(pages.at(-1)).toContain(`End of certificate ${sample.number}`);
    const whole = pages.join(' ');
    expect(whole).toContain(ENTRY.hash);
    expect(whole).not.toMatch(/accredit|PDF\/A/i);
    for (const { number, emptyG, filledG } of sample.record.trials)
      expect(whole).toMatch(new RegExp(`\\b${number} [^|]{0,12}${emptyG}\\D{0,60}${filledG}`));
  });

  it('gives the same bytes each time', async () => {
    const [first, second] = [await paper(maximal()), await paper(maximal())];
    expect(first.subarray(0, 8).toString('latin1')).toBe('%PDF-1.7');
    expect(second.equals(first)).toBe(true);
  });
});

const readOr = async (context: { skip: (why: string) => never }, sample: Issued): Promise<string> => {
  const missing = noPdfPrograms();
  return missing === null ? pagesOf(await paper(sample)).join(' ') : context.skip(missing);
};

describe('what it tells', () => {
  it('tells all a reader needs of an amended burette', async (context) => {
    const text = await readOr(context, maximal());
    for (const said of [
      'Replaces certificate 2026-00042. Reason: wrong serial number',
      'Quartz & "Sons" <Ltd> [U+1F9EA] µ',
      'ISO 385:2005 class A',
      'all 5 test points and the difference between any two of them',
      'for a coverage probability of 95.45 %',
      'U is of the mean volume',
      'the standard uncertainty of one single use',
      'Risk: A vessel that passes is wrong at most about once in forty',
      '5 of 6 of 6',
      'Corrected: empty reading, typed 61.2034, is 61.2035.',
      'Excluded: water was spilt. ran over the edge',
      'checked by the same person who measured',
      'not established',
      'Due again 2029-03-12',
      'ISO 3696 grade 3',
      'The plan was changed after the calibration had begun',
      'This certificate holds for this item only.',
    ])
      expect(text).toContain(said);
    expect(text).not.toContain('[U+221E]');
  });

  it.for(['not-checked', 'none'] as const)('prints no verdict where the tolerance is %s', async (kind, context) => {
    const text = await readOr(context, issued(flaskRecord(), { toleranceBasis: { kind } }));
    expect(text).toContain('so there is no verdict.');
    expect(text).not.toMatch(/\bpass\b|Decision rule/i);
    expect(text).toContain('99.968');
    expect(text).not.toContain('Due again');
  });

  it('prints a failing verdict by its name', async (context) => {
    const low = flaskRecord({ vessel: flask({ tolerance: { markedMl: '0.1' } }), trials: weighings('100', 99.4, 10) });
    expect(await readOr(context, issued(low))).toContain('Fail: mean volume against the tolerance marked on it');
  });
});
