import { describe, expect, it } from 'vitest';
import { laboratoryBody, type Laboratory } from '../../server/laboratory/contract.ts';
import { draftOf, isSame, merge, readAltitude, readDraft, versionsOf } from '../../web/pages/settings/draft.ts';

const laboratory: Laboratory = {
  version: 1,
  name: null,
  address: null,
  countryCode: null,
  secondPersonChecks: false,
  altitudeM: '180',
  defaults: {
    decisionRule: 'guarded',
    coverageProbability: '0.9545',
    plannedTrials: 10,
    repeatability: 'own',
    overdueBlocks: false,
  },
  standardPressureHpa: 991.8,
  demonstration: false,
  intervalMonths: null,
  hostNames: [],
  backups: null,
  journalFault: null,
};
const draft = draftOf(laboratory);

describe('settings typed into the form', () => {
  it('become a body the server takes', () => {
    const { body, problems } = readDraft({ ...draft, name: ' Teaching laboratory ', altitudeM: '−12,5' });
    expect(problems).toEqual({});
    expect(laboratoryBody.parse(body)).toMatchObject({
      name: 'Teaching laboratory',
      address: null,
      altitudeM: '-12.5',
    });
  });

  it('take names of the server one a line, in small letters, and none from an empty field', () => {
    const names = (hostNames: string) => readDraft({ ...draft, hostNames }).body.hostNames;
    expect(names(' Balance.School.example\n\nlab-2.example ')).toEqual(['balance.school.example', 'lab-2.example']);
    expect(names(' \n')).toEqual([]);
    expect(draftOf({ ...laboratory, hostNames: ['a.example', 'b.example'] }).hostNames).toBe('a.example\nb.example');
  });

  it('send whether a second person checks, and show it among what two people changed', () => {
    const mine = { ...draft, secondPersonChecks: true };
    expect(readDraft(mine).body.secondPersonChecks).toBe(true);
    expect(versionsOf(draft, mine, draft)).toHaveLength(1);
    expect(merge(draft, mine, { ...draft, name: 'Room 3' })).toMatchObject({
      secondPersonChecks: true,
      name: 'Room 3',
    });
  });

  it('take the months a calibration lasts, none from an empty field, and no half month', () => {
    const interval = (intervalMonths: string) => readDraft({ ...draft, intervalMonths });
    expect(interval(' 12 ').body.intervalMonths).toBe(12);
    expect(interval(' ')).toMatchObject({ body: { intervalMonths: null }, problems: {} });
    for (const typed of ['0', '601', '6.5', 'a year']) expect(interval(typed).problems['intervalMonths']).toBeDefined();
  });

  it('empty a setting that was emptied', () => {
    expect(readDraft({ ...draft, altitudeM: ' ' }).body.altitudeM).toBeNull();
  });

  // The range of the wire: −430 to 5000 m, both inside.
  it.each([
    ['-430', true],
    ['5000', true],
    ['-430.1', false],
    ['5000.1', false],
    ['high', false],
  ])('take a height of %s: %s', (typed, isTaken) => {
    expect(readAltitude(typed).problem === undefined).toBe(isTaken);
  });

  it.each([
    ['1', true],
    ['1000', true],
    ['0', false],
    ['1001', false],
    ['2.5', false],
    ['', false],
  ])('take %s planned trials: %s', (typed, isTaken) => {
    const { problems } = readDraft({ ...draft, plannedTrials: typed });
    expect('defaults/plannedTrials' in problems).toBe(!isTaken);
  });
});

describe('settings changed by two people', () => {
  const mine = { ...draft, name: 'North', plannedTrials: '6' };
  const present = draftOf({ ...laboratory, version: 2, name: 'South', altitudeM: '210' });

  it('keep what only the other changed and what I changed', () => {
    const merged = merge(draft, mine, present);
    expect(merged).toEqual({ ...draft, name: 'North', plannedTrials: '6', altitudeM: '210' });
    expect(isSame(merged, present)).toBe(false);
  });

  it('are shown field by field', () => {
    expect(versionsOf(draft, mine, present)).toEqual([
      { name: 'Name', before: '', mine: 'North', present: 'South' },
      { name: 'Height above sea level', before: '180', mine: '180', present: '210' },
      { name: 'Trials planned for each point', before: '10', mine: '6', present: '10' },
    ]);
  });
});
