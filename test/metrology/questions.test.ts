import { describe, expect, it } from 'vitest';
import {
  openQuestions,
  questionsForAir,
  questionsForTrial,
  questionsForVessel,
  refusalsForAir,
  refusalsForTrial,
} from '../../server/metrology/questions.ts';
import type { CalibrationRecord, TrialFacts, VesselFacts } from '../../server/metrology/record.ts';
import { findTolerance, rowOf } from '../../server/metrology/tolerance.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { flask, record, trial } from './make.ts';

function asked(vessel: VesselFacts, facts: Partial<TrialFacts>, changes: Partial<CalibrationRecord> = {}): string[] {
  const row = rowOf(findTolerance(toleranceRows, vessel));
  const questions = questionsForTrial(record({ vessel, ...changes }), trial(facts), 1, row);
  return questions.map((question) => `${question.name} ${question.pointer}`);
}

describe('refused outright', () => {
  const refused = (facts: Partial<TrialFacts>, pointer?: string) =>
    refusalsForTrial(record(), trial(facts), pointer).map((refusal) => refusal.pointer);

  it('nothing of an ordinary trial', () => expect(refused({})).toEqual([]));

  it.each([
    ['filled lighter', { filledG: '61.2033' }, '#/filledG'],
    ['filled equal', { filledG: '61.20340' }, '#/filledG'],
    ['cold water', { waterTemperatureC: '-0.1' }, '#/waterTemperatureC'],
    ['hot water', { waterTemperatureC: '40.1' }, '#/waterTemperatureC'],
    ['cold air', { airTemperatureC: '4.9' }, '#/airTemperatureC'],
    ['hot air', { airTemperatureC: '40.1' }, '#/airTemperatureC'],
    ['thin air', { airPressureHpa: '599' }, '#/airPressureHpa'],
    ['dense air', { airPressureHpa: '1101' }, '#/airPressureHpa'],
    ['negative humidity', { relativeHumidityPercent: '-1' }, '#/relativeHumidityPercent'],
    ['too much humidity', { relativeHumidityPercent: '100.1' }, '#/relativeHumidityPercent'],
  ])('%s', (_name, facts, pointer) => {
    expect(refused(facts)).toEqual([pointer]);
  });

  it('at the ends of the ranges nothing', () => {
    expect(refused({ waterTemperatureC: '0' })).toEqual([]);
    expect(refused({ airTemperatureC: '5', airPressureHpa: '600', relativeHumidityPercent: '100' })).toEqual([]);
  });

  it('speaks plainly', () => {
    const [refusal] = refusalsForTrial(record(), trial({ filledG: '60.0000' }));
    expect(refusal?.detail).toBe('Filled is lighter than empty (61.2034 g). Were the two readings swapped?');
  });

  it('speaks of what a vessel gives by before and after', () => {
    const delivering = record({ basis: 'deliver' });
    const refusalOf = (filledG: string) => refusalsForTrial(delivering, trial({ filledG }))[0]?.detail;
    expect(refusalOf('60.0000')).toBe(
      'The reading after is lighter than the one before (61.2034 g). Were the two readings swapped?',
    );
    expect(refusalOf('61.2034')).toMatch(/^The reading after equals the one before/);
    const [question] = questionsForTrial(delivering, trial({ filledG: '190.0000' }), 1);
    expect(question?.detail).not.toContain('Stopper');
  });

  it('points into a list of trials where asked to', () => {
    expect(refused({ filledG: '1' }, '#/trials/3')).toEqual(['#/trials/3/filledG']);
  });

  it('looks at the value a correction puts in place', () => {
    expect(refused({ corrections: [{ field: 'filledG', value: '61.0', reason: 'slip' }] })).toEqual(['#/filledG']);
    expect(refused({ filledG: '61.0', corrections: [{ field: 'filledG', value: '160.8', reason: 'slip' }] })).toEqual(
      [],
    );
  });

  it('looks at the readings after the corrections of the balance', () => {
    const corrections = [
      { at: '60', correction: '0' },
      { at: '160', correction: '-150' },
    ];
    const refusals = refusalsForTrial(record({ instruments: { balance: { corrections } } }), trial({}));
    expect(refusals.map((refusal) => refusal.pointer)).toEqual(['#/filledG']);
  });

  it('looks at the air after the correction of its instrument', () => {
    const instruments = { barometer: { corrections: [{ at: '600', correction: '2' }] } };
    expect(refusalsForAir({ instruments }, { airPressureHpa: '599' }, '#/conditions')).toEqual([]);
    expect(refusalsForAir({}, { airPressureHpa: '599' }, '#/conditions')).toEqual([
      { pointer: '#/conditions/airPressureHpa', detail: 'Air at 599 hPa: only 600 to 1100 hPa can be computed.' },
    ]);
  });
});

describe('asked: the volume', () => {
  it.each([
    // 100 mL class A: max(5·0.1, 2 % of 100) = 2 mL
    ['2 % of a flask', flask(), { filledG: '162.6000' }, []],
    ['over 2 % of a flask', flask(), { filledG: '163.0000' }, ['volume #/filledG']],
    // 5 mL cylinder of class B: max(5·0.1, 0.1) = 0.5 mL
    [
      '5 T of a small cylinder',
      flask({
        kind: 'measuring-cylinder',
        nominalVolumeMl: '5',
        tolerance: { standard: 'ISO 4788', edition: '2005', class: 'B' },
      }),
      { pointMl: '5', emptyG: '20.000', filledG: '25.450' },
      [],
    ],
    [
      'a third off in a beaker',
      flask({ kind: 'beaker', tolerance: { markedPercent: '5' } }),
      { filledG: '130.0000' },
      ['volume #/filledG'],
    ],
    ['29 % off in a beaker', flask({ kind: 'beaker', tolerance: { markedPercent: '5' } }), { filledG: '132.5' }, []],
    ['9 % off in a pycnometer', flask({ kind: 'pycnometer', tolerance: null }), { filledG: '152.5' }, []],
    [
      '11 % off in a pycnometer',
      flask({ kind: 'pycnometer', tolerance: null }),
      { filledG: '150' },
      ['volume #/filledG'],
    ],
  ])('%s', (_name, vessel, facts, expected) => {
    expect(asked(vessel, facts)).toEqual(expected);
  });
});

describe('asked: the air pressure', () => {
  it.each([
    ['849', null, true],
    ['850', null, false],
    ['755', null, true],
    ['1100', null, false],
    // 1500 m: 845.56 hPa in the standard atmosphere
    ['885', '1500', false],
    ['886', '1500', true],
    ['805', '1500', true],
  ])('%s hPa at altitude %s m: %s', (airPressureHpa, altitudeM, expected) => {
    const questions = questionsForAir({ laboratory: { altitudeM } }, { airPressureHpa }, '#/conditions');
    expect(questions.map((question) => question.pointer)).toEqual(expected ? ['#/conditions/airPressureHpa'] : []);
  });

  it('of a trial only where the trial has its own', () => {
    const conditions = { airPressureHpa: '755' };
    expect(asked(flask(), {}, { conditions })).toEqual([]);
    expect(asked(flask(), { airPressureHpa: '755' })).toEqual(['air-pressure #/airPressureHpa']);
  });
});

describe('asked: the tolerance', () => {
  it('a mark far from the named class', () => {
    const vessel = (markedMl: string) =>
      flask({ tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A', markedMl } });
    expect(questionsForVessel(toleranceRows, vessel('0.3'))).toMatchObject([
      { name: 'tolerance', pointer: '#/tolerance/markedMl' },
    ]);
    expect(questionsForVessel(toleranceRows, vessel('0.12'))).toEqual([]);
    expect(questionsForVessel(toleranceRows, flask({ tolerance: { markedMl: '9' } }))).toEqual([]);
  });
});

describe('answers', () => {
  const questions = [{ name: 'volume', pointer: '#/filledG', detail: 'far' }] as const;

  it('count with the name and a note', () => {
    expect(openQuestions(questions, ['volume'], 'wide neck, second mark')).toEqual([]);
    expect(openQuestions(questions, ['volume'], ' ')).toEqual(questions);
    expect(openQuestions(questions, ['volume'], null)).toEqual(questions);
    expect(openQuestions(questions, ['air-pressure'], 'seen')).toEqual(questions);
    expect(openQuestions(questions, undefined, 'seen')).toEqual(questions);
  });
});
