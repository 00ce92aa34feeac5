/** The second factor: codes of an app, each once, and recovery codes. The app is another library's arithmetic. */
import { createHmac } from 'node:crypto';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { stepOf } from '../../server/people/second-factor.ts';
import { everything, expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { addPerson, Browser, PASSPHRASE, setUp } from './people.ts';

let server: TestServer;
let keeper: Browser;
beforeEach(async () => {
  server = await TestServer.start();
  keeper = await setUp(server);
});
afterEach(async () => server.end());

const bytesOf = (base32: string): Buffer => {
  const bits = [...base32].map((sign) => 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'.indexOf(sign).toString(2).padStart(5, '0'));
  const octets = bits.join('').match(/.{8}/g) ?? [];
  return Buffer.from(octets.map((octet) => Number.parseInt(octet, 2)));
};
/** RFC 4226, section 5.3, with the step as the counter (RFC 6238). */
const codeAt = (secret: string, at: Date): string => {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(Math.floor(at.getTime() / 30_000)));
  const mac = createHmac('sha1', bytesOf(secret)).update(counter).digest();
  const offset = (mac.at(-1) ?? 0) & 15;
  return String((mac.readUInt32BE(offset) & 0x7fffffff) % 1_000_000).padStart(6, '0');
};
const later = (seconds: number): void => {
  server.now = new Date(server.now.getTime() + seconds * 1000);
};
const turnOn = async (): Promise<{ secret: string; recoveryCodes: string[] }> => {
  const begun = (await keeper.post('/api/session/second-factor')).body as { secret: string; uri: string; svg: string };
  expect(begun.uri).toContain(`secret=${begun.secret}`);
  expect(begun.svg).toMatch(/^<svg /);
  const code = codeAt(begun.secret, server.now);
  const reply = await keeper.post('/api/session/second-factor/confirmation', { code });
  expect(reply.status).toBe(200);
  return { secret: begun.secret, recoveryCodes: reply.body['recoveryCodes'] as string[] };
};

// RFC 6238, appendix B, SHA-1, the last six of eight digits; the secret is "12345678901234567890".
it.each([
  ['1970-01-01T00:00:59Z', '287082', 1],
  ['2005-03-18T01:58:29Z', '081804', 37037036],
  ['2009-02-13T23:31:30Z', '005924', 41152263],
  ['2033-05-18T03:33:20Z', '279037', 66666666],
])('computes the published code of %s', async (at, code, step) => {
  expect(await stepOf('GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ', code, new Date(at))).toBe(step);
});

it('is asked for once it is on, takes each code once, and one step before or after', async () => {
  const { secret } = await turnOn();
  const browser = new Browser(server);
  expectProblem(await browser.signIn('Ada Keeper'), ['second-factor-needed']);
  expectProblem(await browser.signIn('Ada Keeper', 'wrong guess'), ['sign-in-refused']);
  // The code that turned it on is used.
  expectProblem(await browser.signIn('Ada Keeper', PASSPHRASE, { secondFactor: codeAt(secret, server.now) }), [
    'sign-in-refused',
  ]);
  later(60);
  const secondFactor = codeAt(secret, new Date(server.now.getTime() - 30_000));
  expect((await browser.signIn('Ada Keeper', PASSPHRASE, { secondFactor })).status).toBe(200);
  expectProblem(await browser.signIn('Ada Keeper', PASSPHRASE, { secondFactor }), ['sign-in-refused']);
  later(300);
  const tooOld = codeAt(secret, new Date(server.now.getTime() - 60_000));
  expectProblem(await browser.signIn('Ada Keeper', PASSPHRASE, { secondFactor: tooOld }), ['sign-in-refused']);
  const soon = codeAt(secret, new Date(server.now.getTime() + 30_000));
  const both = [0, 1].map(() => new Browser(server).signIn('Ada Keeper', PASSPHRASE, { secondFactor: soon }));
  expect((await Promise.all(both)).map(({ status }) => status).sort()).toEqual([200, 401]);
});

it('has ten recovery codes, each good once, kept as hashes', async () => {
  const { recoveryCodes } = await turnOn();
  expect(new Set(recoveryCodes).size).toBe(10);
  const [first = ''] = recoveryCodes;
  expect(JSON.stringify(everything(server))).not.toContain(first);
  const use = async () => new Browser(server).signIn('Ada Keeper', PASSPHRASE, { secondFactor: first.toUpperCase() });
  expect((await use()).status).toBe(200);
  expectProblem(await use(), ['sign-in-refused']);
});

it('is taken off with the passphrase, and by a one-time code of a keeper; the list of people says so', async () => {
  await turnOn();
  const isOn = async () => {
    const { items } = (await keeper.get('/api/people')).body as { items: { secondFactor: boolean }[] };
    return items[0]?.secondFactor;
  };
  expect(await isOn()).toBe(true);
  expectProblem(await keeper.post('/api/session/second-factor'), ['state-conflict']);
  expectProblem(await keeper.post('/api/session/second-factor/removal', { password: 'no' }), [
    'wrong-passphrase',
    '#/password',
  ]);
  expect((await keeper.post('/api/session/second-factor/removal', { password: PASSPHRASE })).status).toBe(200);
  expect(await isOn()).toBe(false);
  expect((await new Browser(server).signIn('Ada Keeper')).status).toBe(200);
});

it('is not on before its first code was typed, and is for those with more at stake', async () => {
  await keeper.post('/api/session/second-factor');
  expectProblem(await keeper.post('/api/session/second-factor/confirmation', { code: '000000' }), [
    'wrong-code',
    '#/code',
  ]);
  expect((await new Browser(server).signIn('Ada Keeper')).status).toBe(200);
  const { browser: eva } = await addPerson(keeper, 'Eva', 'teacher');
  expectProblem(await eva.post('/api/session/second-factor'), ['not-allowed']);
});
