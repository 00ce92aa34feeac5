/** A paper says of a thing what the screen says of it: whoever worked at the screen finds the same word in print. */
import { expect, it } from 'vitest';
import { methodStatements } from '../../server/certificates/statements.ts';
import * as words from '../../server/certificates/words.ts';
import { benchText } from '../../web/messages/en-bench.ts';
import { pointBudgetText, ruleText } from '../../web/messages/en-uncertainty.ts';
import { budgetText } from '../../web/messages/en-working.ts';
import { text } from '../../web/messages/en.ts';
import { flaskRecord, issued } from './samples.ts';

it.each([
  ['kinds of vessel', words.kindWords, text.words.vesselKinds],
  ['materials', words.materialWords, text.words.materials],
  ['verdicts', words.verdictWords, text.words.verdicts],
  ['grades of water', words.waterGradeWords, text.words.waterGrades],
  ['causes of an exclusion', words.exclusionCauseWords, text.words.exclusionCauses],
  ['to contain and to deliver', words.basisWords, text.words.bases],
  ['origins of readings', words.originWords, text.words.origins],
  ['ways to set the meniscus', words.meniscusRuleWords, text.words.meniscusRules],
  ['parts of an uncertainty', words.componentWords, budgetText.components],
])('%s are called alike', (_what, paper, screen) => {
  expect(paper).toEqual(screen);
});

it.each([
  ['distributions', words.distributionWords, pointBudgetText.distributions],
  ['readings', words.fieldWords, benchText.fields],
])('%s that both name are called alike', (_what, paper, screen) => {
  const both = Object.keys(paper).filter((key) => key in screen);
  expect(both.length).toBeGreaterThan(3);
  for (const key of both) expect(paper[key], key).toBe(screen[key]);
});

it('a rule of decision begins with the word the screen has for it', () => {
  for (const rule of ['guarded', 'simple'] as const)
    expect(words.ruleWords[rule].name.startsWith(`${ruleText[rule].name} `)).toBe(true);
});

it('a spread pooled over the lot is told from one of earlier calibrations', () => {
  const pool = { sdMl: 0.0042, degreesOfFreedom: 12, from: ['a', 'b', 'c'] };
  const said = (over: 'lot' | undefined) => {
    const repeatability = { use: 'pooled', over, sdMl: '0.0042', degreesOfFreedom: 12 } as const;
    return methodStatements(issued(flaskRecord({ repeatability }), { pool })).join(' ');
  };
  expect(said('lot')).toContain('pooled over the lot, from 3 other vessels');
  expect(said('lot')).not.toContain('earlier calibration');
  expect(said(undefined)).toContain('from 3 earlier calibrations');
});
