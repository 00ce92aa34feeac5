/** Random work on a logbook, with restarts and repeated requests, against a model of a few lines. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { faultIn, looking } from '../db/support.ts';
import { counted, perform, usedG, type ModelCalibration, type Step } from './model.ts';
import { CALIBRATION, freshKey, TestServer, type Reply } from './support.ts';

const SEED = 20260914;
/** Fifty steps each: two thousand with every change, ten thousand when there is time. */
const RUNS = process.env['TAREBOOK_SOAK'] === undefined ? 40 : 200;
const PATIENCE_MS = RUNS * 3000;
const REASON = { reason: 'random work' };
const calibrationIndex = fc.nat(2);
const trialIndex = fc.nat(6);
/** Readings of a 100 mL flask, whose digits a number would not keep. */
const emptyG = fc.constantFrom('61.2034', '61.20340', '+61.2', '061.20', '61.');
const filledG = fc
  .tuple(fc.integer({ min: 0, max: 999 }), fc.constantFrom('', '0', '00'))
  .map(([digits, zeros]) => `160.8${String(digits).padStart(3, '0')}${zeros}`);
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 2, arbitrary: fc.record({ do: fc.constant('begin' as const), planned: fc.integer({ min: 1, max: 4 }) }) },
  { weight: 8, arbitrary: fc.record({ do: fc.constant('trial' as const), of: calibrationIndex, emptyG, filledG }) },
  {
    weight: 3,
    arbitrary: fc.record({ do: fc.constant('correct' as const), of: calibrationIndex, trial: trialIndex, filledG }),
  },
  {
    weight: 4,
    arbitrary: fc.record({
      do: fc.constantFrom('exclude' as const, 'include' as const),
      of: calibrationIndex,
      trial: trialIndex,
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constant('measure' as const), of: calibrationIndex, reason: fc.boolean() }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('reopen' as const), of: calibrationIndex }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('abandon' as const), of: calibrationIndex }) },
  {
    weight: 4,
    arbitrary: fc.record({ do: fc.constant('again' as const), request: fc.nat(30), changed: fc.boolean() }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('restart' as const) }) },
);

interface Sent {
  url: string;
  body: object;
  key: string;
  reply: Reply;
}

class Work {
  readonly calibrations: ModelCalibration[] = [];
  readonly sent: Sent[] = [];
  accepted = 1;
  readonly server: TestServer;
  readonly vessel: string;

  constructor(server: TestServer, vessel: string) {
    this.server = server;
    this.vessel = vessel;
  }

  async take(one: Step): Promise<void> {
    if (one.do === 'restart') return this.server.restart();
    if (one.do === 'again') return this.#again(one.request, one.changed);
    if (one.do === 'begin') return this.#begin(one.planned);
    const calibration = this.calibrations[one.of];
    if (!calibration) return;
    const [what, body] = request(one);
    const expected = perform(calibration, one);
    const reply = await this.#send(`/api/calibrations/${calibration.id}/${what}`, body);
    expect({ step: one, status: reply.status }).toEqual({ step: one, status: expected });
  }

  async #begin(planned: number): Promise<void> {
    const url = `/api/vessels/${this.vessel}/calibrations`;
    const reply = await this.#send(url, { ...CALIBRATION, plannedTrials: planned });
    expect(reply.status).toBe(201);
    this.calibrations.push({ id: String(reply.body['id']), state: 'open', planned, trials: [] });
  }

  async #send(url: string, body: object): Promise<Reply> {
    const key = freshKey();
    const reply = await this.server.send('POST', url, body, { 'idempotency-key': key });
    if (reply.status === 201) {
      this.accepted += 1;
      this.sent.push({ url, body, key, reply });
    }
    return reply;
  }

  /** An accepted request that comes again is answered as it was, however much has changed since. */
  async #again(index: number, changed: boolean): Promise<void> {
    const earlier = this.sent.at(-1 - index);
    if (!earlier) return;
    const { url, body, key } = earlier;
    const reply = await this.server.send('POST', url, changed ? otherwise(body) : body, { 'idempotency-key': key });
    if (changed) expect(reply).toMatchObject({ status: 422, body: { type: '/problems/key-reused' } });
    else expect({ status: reply.status, body: reply.body }).toEqual({ status: 201, body: earlier.reply.body });
  }

  async compare(): Promise<void> {
    for (const calibration of this.calibrations) {
      const page = await this.server.calibrationPage(calibration.id);
      expect({ state: page.state, planned: page.plannedTrials }).toEqual({
        state: calibration.state,
        planned: calibration.planned,
      });
      expect(page.points.map(({ n, nRecorded }) => ({ n, nRecorded }))).toEqual([
        { n: counted(calibration), nRecorded: calibration.trials.length },
      ]);
      expect(page.final).toBe(counted(calibration) >= calibration.planned);
      expect(
        page.trials.map((trial) => ({
          emptyG: trial.emptyG,
          filledG: trial.filledG,
          usedG: trial.used.filledG,
          correctedG: trial.corrections.map((correction) => correction.value),
          excluded: trial.exclusion !== null,
        })),
      ).toEqual(calibration.trials.map((trial) => ({ ...trial, usedG: usedG(trial) })));
    }
    const { file } = this.server.logbook;
    const numbers = looking(file, (handle) =>
      handle.prepare('select number from journal_entry order by number').pluck().all(),
    );
    expect(numbers).toEqual(Array.from({ length: this.accepted }, (_, index) => index + 1));
    expect(faultIn(file)).toBeNull();
  }
}

/** A body that the same address would take, but another one. */
const otherwise = (body: object): object =>
  'points' in body || 'pointMl' in body ? { ...body, note: 'another one' } : { ...body, reason: 'another one' };

const request = (one: Exclude<Step, { do: 'begin' | 'again' | 'restart' }>): [what: string, body: object] => {
  switch (one.do) {
    case 'trial':
      return ['trials', { pointMl: '100', emptyG: one.emptyG, filledG: one.filledG, waterTemperatureC: '21.3' }];
    case 'correct':
      return [`trials/${one.trial + 1}/correction`, { field: 'filledG', value: one.filledG, ...REASON }];
    case 'exclude':
      return [`trials/${one.trial + 1}/exclusion`, { cause: 'spill', ...REASON }];
    case 'include':
      return [`trials/${one.trial + 1}/inclusion`, REASON];
    case 'measure':
      return ['measured', one.reason ? REASON : {}];
    case 'reopen':
      return ['reopening', REASON];
    case 'abandon':
      return ['abandonment', REASON];
  }
};

it(
  'agrees with the model after every few steps, whatever order they come in',
  async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 40, maxLength: 60 }), async (steps) => {
        const server = await TestServer.start();
        try {
          const work = new Work(server, await server.vessel());
          await work.take({ do: 'begin', planned: 3 });
          for (const [index, one] of steps.entries()) {
            await work.take(one);
            if (index % 20 === 19) await work.compare();
          }
          await work.compare();
        } finally {
          await server.end();
        }
      }),
      { seed: SEED, numRuns: RUNS, interruptAfterTimeLimit: PATIENCE_MS },
    );
  },
  PATIENCE_MS + 5000,
);
