/** Lessons for the tests: an experiment with one flask, groups that join it, trials they weigh. All invented. */
import { Browser } from '../people/people.ts';
import { idOf, type Reply, type TestServer } from '../server/support.ts';

/** 100 mL; balances to 0.1 mg, so that readings of the worked examples fit. */
export const PLAN = {
  template: 'one-flask-many-hands',
  title: 'How much does a flask hold?',
  balances: [{ label: 'Balance 1', resolutionG: '0.0001' }],
  conditions: { airTemperatureC: '20', airPressureHpa: '1013.25', relativeHumidityPercent: '50' },
};
export const READINGS = { row: 'flask', emptyG: '61.2034', filledG: '160.8371', waterTemperatureC: '21.3' };

export interface Lesson {
  id: string;
  code: string;
  boardCode: string;
  assistantCode: string;
}

/** What tests speak through: a signed-in browser, or a server on which nobody is set up yet. */
type Speaker = Pick<TestServer, 'get' | 'post'>;

export const ok = (reply: Reply): Reply['body'] => {
  if (reply.status !== 200 && reply.status !== 201) throw new Error(`${reply.status} ${JSON.stringify(reply.body)}`);
  return reply.body;
};

export const planned = async (speaker: Speaker, facts: object = {}): Promise<string> =>
  idOf(await speaker.post('/api/experiments', { ...PLAN, ...facts }));

export const codesAt = async (speaker: Speaker, id: string): Promise<Lesson> => {
  const { code, boardCode, assistantCode } = ok(await speaker.get(`/api/experiments/${id}/joining`));
  return { id, code: String(code), boardCode: String(boardCode), assistantCode: String(assistantCode) };
};

export const openExperiment = async (speaker: Speaker, facts: object = {}): Promise<Lesson> => {
  const id = await planned(speaker, facts);
  ok(await speaker.post(`/api/experiments/${id}/opening`, {}));
  return codesAt(speaker, id);
};

export interface Joined {
  browser: Browser;
  group: string;
  name: string;
  word: string;
  /** The address of the group below /api. */
  url: string;
}

export const joinAt = async (server: TestServer, code: string, address = '127.0.0.1'): Promise<Joined> => {
  const browser = new Browser(server);
  browser.address = address;
  const { experimentId, groupId, name, word } = ok(await browser.post('/api/class/join', { code }));
  const url = `/api/experiments/${String(experimentId)}/groups/${String(groupId)}`;
  return { browser, group: String(groupId), name: String(name), word: String(word), url };
};

export const helpAt = async (server: TestServer, kind: 'board' | 'assistant', code: string): Promise<Browser> => {
  const browser = new Browser(server);
  ok(await browser.post(`/api/class/${kind}`, { code }));
  return browser;
};

/** One group by the teacher's hand, with one trial. */
export const measuredExperiment = async (speaker: Speaker, facts: object = {}) => {
  const { id } = await openExperiment(speaker, facts);
  const { items } = ok(await speaker.post(`/api/experiments/${id}/groups`, { count: 1 })) as {
    items: { id: string }[];
  };
  const group = items[0]?.id ?? '';
  const url = `/api/experiments/${id}/groups/${group}`;
  ok(await speaker.post(`${url}/trials`, READINGS));
  return { id, group, url };
};
