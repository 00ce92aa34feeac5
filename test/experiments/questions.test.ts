/** A class checks itself: the answers come from its own numbers and the limits of its ware. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { AnswerChecked, QuestionList } from '../../server/experiments/contract-questions.ts';
import { expectProblem } from '../server/attempts.ts';
import { idOf, TestServer } from '../server/support.ts';
import { joinAt, measuredExperiment, ok, openExperiment } from './lesson.ts';

let server: TestServer;
let id: string;
beforeAll(async () => {
  server = await TestServer.start();
  const plan = idOf(await server.post('/api/experiments', { template: 'four-ways' }));
  id = idOf(await server.post(`/api/experiments/${plan}/rehearsal`, { groups: 8, seed: 20261126 }));
});
afterAll(async () => server.end());

const questions = async (): Promise<QuestionList['items']> =>
  (ok(await server.get(`/api/experiments/${id}/questions`)) as unknown as QuestionList).items;
const answer = (question: string, option: string, reason: string) =>
  server.post(`/api/experiments/${id}/answers`, { question, option, reason });
const checked = async (question: string, option: string, reason: string): Promise<AnswerChecked> =>
  ok(await answer(question, option, reason)) as unknown as AnswerChecked;

it('asks by the names of the ware, offers reasons beside the right ones, and gives no answer away', async () => {
  const items = await questions();
  expect(items.map((item) => item.id)).toContain('deliver-portion');
  const deliver = items.find((item) => item.id === 'deliver-portion');
  expect(deliver?.options.map(({ label }) => label)).toContain('One-mark pipette');
  expect(deliver?.reasons.length).toBeGreaterThan(2);
  for (const item of items) expect(Object.keys(item).sort()).toEqual(['about', 'ask', 'id', 'options', 'reasons']);
});

// ISO 384:2015 (from memory): ware marked In contains its volume, ware marked Ex delivers it.
it('takes a flask for no delivery: it contains', async () => {
  const told = await checked('deliver-portion', 'flask', 'contain-or-deliver');
  expect(told).toMatchObject({ optionRight: false, against: ['contain-or-deliver'] });
  expect(told.right.map(({ key }) => key)).not.toContain('flask');
});

it('knows that one mark measures one volume', async () => {
  expect(await checked('odd-volume', 'pipette', 'one-mark-or-graduated')).toMatchObject({
    optionRight: false,
    reasonRight: true,
    against: ['one-mark-or-graduated'],
  });
});

it('answers what arrives of a vessel marked In: less', async () => {
  expect(await checked('pour-out-flask', 'less', 'contain-or-deliver')).toMatchObject({
    optionRight: true,
    reasonRight: true,
    right: [{ key: 'less', label: null }],
  });
});

it('keeps nothing of an answer, and refuses one that is not offered at its field', async () => {
  const before = ok(await server.get(`/api/experiments/${id}`))['change'];
  await checked('pour-out-flask', 'more', 'biased');
  expect(ok(await server.get(`/api/experiments/${id}`))['change']).toBe(before);
  const refused = await answer('pour-out-flask', 'never', 'biased');
  expectProblem(refused, ['validation-failed', '#/option']);
  expect(refused.body['errors']).toMatchObject([{ pointer: '#/option' }]);
});

it('asks a class that weighed nothing nothing its numbers would have to answer', async () => {
  const { code, id: empty } = await openExperiment(server);
  const { browser } = await joinAt(server, code);
  const { items } = ok(await browser.get(`/api/experiments/${empty}/questions`)) as unknown as QuestionList;
  expect(items.map((item) => item.id)).not.toContain('nearest-to-true');
  const other = await measuredExperiment(server);
  expectProblem(await browser.get(`/api/experiments/${other.id}/questions`), ['not-found']);
});
