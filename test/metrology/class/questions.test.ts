import { describe, expect, it } from 'vitest';
import type { ClassRow } from '../../../server/metrology/class/data.ts';
import { rowFigures } from '../../../server/metrology/class/figures.ts';
import { limitsOf } from '../../../server/metrology/class/limits.ts';
import { checkAnswer, QUESTION_IDS, questionsFor } from '../../../server/metrology/class/questions.ts';
import type { Question, QuestionId } from '../../../server/metrology/class/questions.ts';
import { toleranceRows } from '../../../server/metrology/tolerance-table.ts';

/** Three groups of three; the last one a shift off, so that there is a spread between groups too. */
function row(facts: Pick<ClassRow, 'key' | 'kind' | 'basis'>, meanMl: number, stepMl: number, shiftMl = 0) {
  const groups = ['1', '2', '3'].map((key, at) => {
    const own = meanMl + (at === 2 ? shiftMl : 0);
    return { key, trialsMl: [own - stepMl, own, own + stepMl] };
  });
  const limits = limitsOf(toleranceRows, { ...facts, nominalMl: 25, divisionMl: facts.kind === 'burette' ? 0.1 : 0.5 });
  return rowFigures({ ...facts, nominalMl: 25, toleranceMl: null, limits, groups });
}

const pipette = row({ key: 'pipette', kind: 'single-volume-pipette', basis: 'deliver' }, 24.99, 0.015);
const burette = row({ key: 'burette', kind: 'burette', basis: 'deliver' }, 25.02, 0.03);
const cylinder = row({ key: 'cylinder', kind: 'measuring-cylinder', basis: 'deliver' }, 24.8, 0.1);
const flask = row({ key: 'flask', kind: 'volumetric-flask', basis: 'contain' }, 25.005, 0.02);
const beaker = row({ key: 'beaker', kind: 'beaker', basis: 'contain' }, 26, 0.4, 3);
const four = [beaker, cylinder, pipette, burette, flask];

function asked(id: QuestionId, rows = four): Question {
  const question = questionsFor(rows).find((one) => one.id === id);
  if (question === undefined) throw new Error(`${id} is not asked`);
  return question;
}

describe('questions of a class with five kinds of ware', () => {
  it('are all asked, each with an answer among its options and a reason', () => {
    const questions = questionsFor(four);
    expect(questions.map((question) => question.id)).toEqual([...QUESTION_IDS]);
    for (const { id, right, options, reasons, ask } of questions) {
      expect(right.length, id).toBeGreaterThan(0);
      expect(
        right.every((key) => options.includes(key)),
        id,
      ).toBe(true);
      expect(reasons.length, id).toBeGreaterThan(0);
      expect(ask, id).toMatch(/\?$/);
    }
  });

  it('a standard solution is made up in the flask: contain, one mark', () => {
    const question = asked('make-up-solution');
    expect(question.right).toEqual(['flask']);
    expect(question.reasons).toContain('contain-or-deliver');
    expect(question.against.find((one) => one.key === 'pipette')?.codes).toEqual(['contain-or-deliver']);
  });

  it('a portion is delivered by the pipette; the burette spreads too much for 0.3 %', () => {
    // 0.3 % of 25 mL is 0.075 mL: pipette 0.01 + 2·0.015, burette 0.02 + 2·0.03
    const question = asked('deliver-portion');
    expect(question.right).toEqual(['pipette']);
    expect(question.against.find((one) => one.key === 'burette')?.codes).toEqual(['too-much-spread']);
  });

  it('a titration takes a scale', () => {
    const question = asked('titrate');
    expect(question.right).toEqual(['burette']);
    expect(question.against.find((one) => one.key === 'pipette')?.codes).toEqual(['one-mark-or-graduated']);
  });

  it('an odd volume takes a scale, whatever its accuracy', () => {
    const question = asked('odd-volume');
    expect(question.ask).toContain('17.5 mL');
    expect([...question.right].sort()).toEqual(['burette', 'cylinder']);
    expect(question.reasons).toContain('one-mark-or-graduated');
  });

  it('an acid bath takes any scale, rinsing any vessel', () => {
    expect([...asked('acid-bath').right].sort()).toEqual(['burette', 'cylinder']);
    expect(asked('rinse').right).toHaveLength(5);
    expect(asked('rinse').reasons).toEqual(['all-adequate']);
  });

  it('trueness and precision have different winners', () => {
    expect(asked('nearest-to-true').right).toEqual(['flask']);
    expect(asked('closest-together').right).toEqual(['pipette']);
  });

  it('the tightest limit is that of the pipette: ISO 648 0.03, ISO 1042 0.04, ISO 385 0.05, ISO 3819 10 %', () => {
    const question = asked('tightest-limit');
    expect(question.right).toEqual(['pipette']);
    // a cylinder poured out has no limit: ISO 4788 is of cylinders to contain
    expect([...question.options].sort()).toEqual(['beaker', 'burette', 'flask', 'pipette']);
  });

  it('the larger part of the spread, a filling outside, a flask poured out', () => {
    expect(asked('larger-part', [beaker]).right).toEqual(['between-groups']);
    expect(asked('larger-part', [cylinder]).right).toEqual(['within-group']);
    // 28.6, 29.0, 29.4 against 25 ± 2.5: three of nine
    expect(asked('filling-outside')).toMatchObject({ about: 'beaker' });
    expect(asked('filling-outside').ask).toContain('3 of 9');
    expect(asked('filling-outside').right).toEqual(['fillings-cannot-say']);
    expect(asked('pour-out-flask')).toMatchObject({ right: ['less'], reasons: ['contain-or-deliver'] });
  });
});

describe('a class with less', () => {
  it('says none where nothing will do', () => {
    expect(asked('make-up-solution', [pipette, beaker]).right).toEqual(['none']);
  });

  it('is not asked what its data cannot answer', () => {
    const ids = questionsFor([pipette]).map((question) => question.id);
    for (const id of ['nearest-to-true', 'closest-together', 'tightest-limit', 'pour-out-flask'] as const) {
      expect(ids).not.toContain(id);
    }
    expect(ids).toContain('deliver-portion');
    expect(questionsFor([])).toEqual([]);
  });

  it('before any trial no ware is said to be right for an accuracy', () => {
    const empty = rowFigures({ ...pipette, toleranceMl: null, limits: [], groups: [] });
    expect(asked('deliver-portion', [empty])).toMatchObject({ right: ['none'], reasons: ['too-few-data'] });
  });
});

describe('an answer', () => {
  it('may be right in option or reason alone', () => {
    const question = asked('titrate');
    const right = { option: 'burette', reason: 'one-mark-or-graduated' } as const;
    expect(checkAnswer(question, right)).toEqual({ optionRight: true, reasonRight: true, against: [] });
    expect(checkAnswer(question, { ...right, reason: 'limit-bounds-vessel' })).toMatchObject({
      optionRight: true,
      reasonRight: false,
    });
    expect(checkAnswer(question, { ...right, option: 'flask' })).toEqual({
      optionRight: false,
      reasonRight: true,
      against: ['contain-or-deliver', 'one-mark-or-graduated'],
    });
  });
});
