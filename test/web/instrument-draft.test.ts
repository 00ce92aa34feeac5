import { describe, expect, it } from 'vitest';
import { instrumentBody, type Instrument } from '../../server/instruments/contract.ts';
import {
  draftOf,
  emptyDraft,
  isSame,
  merge,
  partsPerMillion,
  pastedRows,
  readDraft,
  versionsOf,
  type InstrumentDraft,
} from '../../web/pages/instruments/draft.ts';

const balance: InstrumentDraft = {
  ...emptyDraft('balance'),
  texts: {
    tag: ' B-02 ',
    resolutionG: '0,0001',
    capacityG: '220',
    expandedUncertaintyRelative: '1,5e-6',
    certificateOn: '2026-02-28',
    degreesOfFreedom: '50',
    // Typed while the kind was still thermometer: no field of a balance.
    gradientC: '0.1',
  },
  covers: ['resolution'],
  corrections: [
    { at: '0', correction: '0' },
    { at: '', correction: '' },
    { at: '100.0000', correction: '−0,0002' },
  ],
};

describe('an instrument typed into the form', () => {
  it('becomes a body the server takes, every digit kept', () => {
    const { body, problems } = readDraft(balance);
    expect(problems).toEqual({});
    expect(body).toEqual({
      kind: 'balance',
      tag: 'B-02',
      resolutionG: '0.0001',
      capacityG: '220',
      expandedUncertaintyRelative: '0.0000015',
      certificateOn: '2026-02-28',
      degreesOfFreedom: 50,
      certificateCovers: ['resolution'],
      corrections: [
        { at: '0', correction: '0' },
        { at: '100.0000', correction: '-0.0002' },
      ],
    });
    expect(instrumentBody.safeParse(body).success).toBe(true);
  });

  it.each([
    ['dueOn', '2026-02-30', /Due again on/],
    ['certificateOn', '14.09.2026', /Date of the certificate/],
    ['degreesOfFreedom', '4.5', /whole number/],
    ['resolutionG', '0.1.2', /decimal mark/],
    ['capacityG', '220 hPa', /g/],
  ] as const)('%s: %s is refused at the field', (field, typed, problem) => {
    const { problems } = readDraft({ ...balance, texts: { ...balance.texts, [field]: typed } });
    expect(Object.keys(problems)).toEqual([field]);
    expect(problems[field]).toMatch(problem);
  });

  it('names the row and the field of a correction that is not complete or stands twice', () => {
    const corrections = [
      { at: '20', correction: '' },
      { at: '20,0', correction: '0.1' },
      { at: '20.00', correction: '0.2' },
    ];
    const { problems } = readDraft({ ...emptyDraft('thermometer'), texts: { tag: 'T-1' }, corrections });
    expect(Object.keys(problems)).toEqual(['corrections/0/correction', 'corrections/2/at']);
    expect(problems['corrections/2/at']).toMatch(/Row 3/);
  });

  it('leaves an empty tag to the server to refuse, by name', () => {
    expect(readDraft(emptyDraft('barometer')).body).toEqual({ kind: 'barometer', tag: '' });
  });

  it('says small shares in parts in a million', () => {
    expect(partsPerMillion('driftRelative', '0.0000015')).toBe('1.5');
    expect(partsPerMillion('expandedUncertaintyRelative', '2e-5')).toBe('20');
    expect(partsPerMillion('resolutionG', '0.1')).toBeNull();
    expect(partsPerMillion('driftRelative', 'x')).toBeNull();
  });
});

describe('two columns pasted', () => {
  it.each([
    ['tabs', '0\t0\n50\t0.1\n'],
    ['semicolons', '0;0\r\n50;0.1'],
    ['spaces', '0  0\n50 0.1'],
  ])('with %s become rows', (_, pasted) => {
    expect(pastedRows(pasted)).toEqual([
      { at: '0', correction: '0' },
      { at: '50', correction: '0.1' },
    ]);
  });

  it('keep comma decimals and minus signs as they were', () => {
    expect(pastedRows('20,0 −0,04')).toEqual([{ at: '20,0', correction: '−0,04' }]);
  });

  it('are not guessed from one column or three', () => {
    expect(pastedRows('20.0')).toBeNull();
    expect(pastedRows('20.0\n25.0')).toBeNull();
    expect(pastedRows('1\t2\t3')).toBeNull();
    expect(pastedRows('')).toBeNull();
  });
});

/** As it comes back from the register; invented. */
const registered = {
  id: 'b2',
  version: 1,
  kind: 'balance',
  tag: 'B-02',
  location: 'table 1',
  resolutionG: '0.0001',
  certificateCovers: ['linearity'],
  corrections: [{ at: '100', correction: '0.0001' }],
  degreesOfFreedom: 50,
  inUse: true,
  overdue: false,
  recordedAt: '2026-09-14T08:30:00.000Z',
  recordedBy: 'unnamed',
} satisfies Instrument;

describe('an instrument changed by two people', () => {
  const before = draftOf(registered);

  it('comes back from the register as it was typed', () => {
    const { body } = readDraft(before);
    expect(instrumentBody.parse(body)).toEqual({
      kind: 'balance',
      tag: 'B-02',
      location: 'table 1',
      resolutionG: '0.0001',
      certificateCovers: ['linearity'],
      corrections: [{ at: '100', correction: '0.0001' }],
      degreesOfFreedom: 50,
    });
    expect(isSame(before, draftOf(registered))).toBe(true);
  });

  const mine: InstrumentDraft = {
    ...before,
    texts: { ...before.texts, location: 'room 12' },
    corrections: [],
  };
  const present = draftOf({ ...registered, version: 2, resolutionG: '0.001', location: 'table 3', inUse: false });

  it('shows every field that anybody changed, with all three texts', () => {
    expect(versionsOf(before, mine, present)).toEqual([
      { name: 'Place', before: 'table 1', mine: 'room 12', present: 'table 3' },
      { name: 'Last digit', before: '0.0001', mine: '0.0001', present: '0.001' },
      { name: 'Corrections', before: '100: 0.0001', mine: '', present: '100: 0.0001' },
      { name: 'Use', before: 'in use', mine: 'in use', present: 'out of use' },
    ]);
  });

  it('keeps what only the other changed and what I changed', () => {
    const merged = merge(before, mine, present);
    expect(merged.texts.location).toBe('room 12');
    expect(merged.texts.resolutionG).toBe('0.001');
    expect(merged.corrections).toEqual([]);
    expect(merged.inUse).toBe(false);
    expect(merged.covers).toEqual(['linearity']);
  });
});
