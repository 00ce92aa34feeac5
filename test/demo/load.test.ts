/** The demonstration as Tarebook holds it, against the true volumes and the stories its simulation states. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROUNDS } from '../../fixtures/demo/deliveries.ts';
import type { Plan } from '../../fixtures/demo/plan.ts';
import { scatterMl, trueVolumeMl } from '../../fixtures/demo/simulate.ts';
import { PLANS } from '../../fixtures/demo/terms.ts';
import type { Calibration } from '../../server/calibrations/contract.ts';
import type { Certificate, CertificateListItem } from '../../server/certificates/contract.ts';
import { loadDemo } from '../../server/demo/load.ts';
import { readDemoTables } from '../../server/demo/rows.ts';
import type { LotWithVessels } from '../../server/lots/contract.ts';
import type { Preparation, TouchedList } from '../../server/solutions/contract-record.ts';
import type { Today } from '../../server/records/contract.ts';
import { CONSOLE_ACTOR } from '../../server/people/access.ts';
import { listPeople } from '../../server/people/store.ts';
import { columnsUnnoticed } from '../journal/columns-unnoticed.ts';
import { DemoLogbook } from './demo-logbook.ts';

/** Evidence that a term's work leaves, beside what a single calibration does. */
const TERM = [
  ...['logbook_mark', 'lot_decision', 'lot_round', 'tolerance_confirmation', 'vessel_decision', 'vessel_inspection'],
  'zero_check',
];
const tables = readDemoTables();
const calibrations = new Map<string, Calibration>();
const said: string[] = [];
let demo: DemoLogbook;
/** About five seconds of work, and far more on a machine that is doing other things. */
const LOADING_MS = 120_000;

beforeAll(async () => {
  demo = await DemoLogbook.open();
  const { send, begun } = demo.remembering();
  await loadDemo({ logbook: demo.logbook, tables, actor: CONSOLE_ACTOR, send, say: (line) => said.push(line) });
  for (const [key, id] of begun) calibrations.set(key, await demo.get<Calibration>(`/api/calibrations/${id}`));
}, LOADING_MS);
afterAll(() => demo.end());

const held = (key: string): Calibration => {
  const found = calibrations.get(key);
  if (found === undefined) throw new Error(`There is no calibration ${key}.`);
  return found;
};
const onlyPoint = (key: string) => held(key).points[0]!;
const trial = (key: string, number: number) => held(key).trials[number - 1]!;
const codes = (findings: readonly { code: string }[]): string[] => findings.map((finding) => finding.code);

describe('true volumes', () => {
  const means = (): { plan: Plan; pointMl: string; deviation: number }[] =>
    PLANS.flatMap((plan) =>
      held(plan.key).points.map(({ pointMl, n, meanMl }) => ({
        plan,
        pointMl,
        deviation: ((meanMl ?? Number.NaN) - trueVolumeMl(plan, pointMl)) / (scatterMl(plan, pointMl) / Math.sqrt(n)),
      })),
    );

  it('come back within four standard deviations of each mean', () => {
    const far = means().filter(({ deviation }) => !(Math.abs(deviation) < 4));
    expect(far).toEqual([]);
  });

  it('come back with the scatter the simulation states, over all means together', () => {
    // The sum of N squared standard normal deviations has mean N and variance 2N (any textbook of statistics).
    const deviations = means().map(({ deviation }) => deviation);
    expect(deviations.length).toBeGreaterThan(140);
    const mean = deviations.reduce((sum, one) => sum + one ** 2, 0) / deviations.length;
    expect(Math.abs(mean - 1)).toBeLessThan(3 * Math.sqrt(2 / deviations.length));
  });

  it('would not come back by simple division', () => {
    // Common practice, no source: near room temperature water displays about 0.28 % less than its volume in grams.
    const { meanMl, simpleMeanMl } = onlyPoint('2026-09-VF-1000-01');
    expect((meanMl ?? 0) - (simpleMeanMl ?? 0)).toBeGreaterThan(2.5);
    expect((meanMl ?? 0) - (simpleMeanMl ?? 0)).toBeLessThan(3.5);
  });
});

describe('the logbook', () => {
  it('holds every row once, by the console, entered later than performed', () => {
    const all = [...calibrations.values()];
    expect(all.length).toBe(tables.calibrations.length);
    expect(all.flatMap((one) => one.trials).length).toBe(tables.trials.length);
    expect(all.filter((one) => one.recordedBy !== CONSOLE_ACTOR)).toEqual([]);
    expect(all.filter((one) => !codes(one.findings).includes('entered-later'))).toEqual([]);
  });

  it('says for ever that it is a demonstration, from before the first row', async () => {
    expect(await demo.get('/api/laboratory')).toMatchObject({ demonstration: true, altitudeM: '310' });
    const first = await demo.logbook.read((db) =>
      db.selectFrom('journal_entry').select(['act', 'actor']).orderBy('number').limit(1).executeTakeFirst(),
    );
    expect(first).toEqual({ act: 'demonstration-loaded', actor: CONSOLE_ACTOR });
  });

  it('gives each reading back as it was typed', () => {
    const typed = tables.trials.map((row) => [row['emptyG'], row['filledG'], row['waterTemperatureC']]);
    const kept = tables.trials.map((row) => {
      const one = trial(row['calibration'] ?? '', Number(row['number']));
      return [one.emptyG, one.filledG, one.waterTemperatureC];
    });
    expect(kept).toEqual(typed);
  });

  it('was told of its progress', () => {
    expect(said[0]).toBe('63 vessels and 7 instruments are registered.');
    expect(said.slice(1, 3)).toEqual([
      '20 more vessels were delivered and verified: Twenty flasks for the analysis course.',
      '30 more vessels wait to be verified: Thirty flasks for the spring term.',
    ]);
    expect(said.length).toBe(8);
    expect(said[7]).toBe('13 calibrations are checked and issued.');
  });

  it('holds a delivery of thirty flasks, none of them begun, which Today asks to measure', async () => {
    const { lots } = await demo.get<Today>('/api/today');
    expect(lots).toMatchObject([{ progress: { vessels: 30, notBegun: 30 }, ware: { kind: 'volumetric-flask' } }]);
    expect((await demo.tagsFoundBy('VF-T27-30')).length).toBe(1);
  });

  it('fails no vessel but those that should fail', () => {
    const failed = [...calibrations].filter(([, one]) => one.verdict === 'fail').map(([key]) => key);
    expect(failed.sort()).toEqual(['2026-09-VF-0050-01', '2026-09-VF-0100-04']);
  });
});

it('holds a delivery that went all the way: sampled, tested piece by piece, decided about', async () => {
  const { items } = await demo.get<{ items: { id: string; name: string }[] }>('/api/lots');
  const id = items.find(({ name }) => name.startsWith('Twenty flasks'))?.id ?? '';
  const { progress, vessels, decisions } = await demo.get<LotWithVessels>(`/api/lots/${id}`);
  expect(progress).toEqual({ vessels: 20, notBegun: 0, open: 0, measured: 19, outOfUse: 1 });
  expect(decisions.map(({ decision, counts }) => [decision, counts.tested, counts.notPassing])).toEqual([
    ['accept', 19, 1],
    ['screen', 5, 1],
  ]);
  const means = new Map(vessels.map(({ tag, latest }) => [tag, latest?.points[0]?.meanMl ?? Number.NaN]));
  const plans = ROUNDS.flatMap((round) => round.plans);
  const limitMl = (plan: Plan) => (4 * scatterMl(plan, '25')) / Math.sqrt(3);
  const offMl = (plan: Plan) => Math.abs((means.get(plan.tag) ?? Number.NaN) - trueVolumeMl(plan, '25'));
  expect(plans.filter((plan) => !(offMl(plan) < limitMl(plan)))).toEqual([]);
  const failed = vessels.filter(({ latest }) => latest?.verdict === 'fail');
  expect(failed.map(({ tag, decision }) => [tag, decision])).toEqual([['VF-A26-14', 'downgrade']]);
});

describe('stories of vessels', () => {
  it('a flask that fails meets no class of its standard', () => {
    expect(onlyPoint('2026-09-VF-0050-01')).toMatchObject({ verdict: 'fail', meetsClass: null });
  });

  it('one that only meets the lower class fails its own', () => {
    expect(onlyPoint('2026-09-VF-0100-04')).toMatchObject({ verdict: 'fail', meetsClass: 'B' });
  });

  it('one drifts, term by term, by more than chance', () => {
    const terms = ['2024-11', '2025-05', '2026-01', '2026-09'];
    const biases = terms.map((term) => onlyPoint(`${term}-VF-0100-01`).biasMl ?? 0);
    expect([...biases].sort((one, other) => other - one)).toEqual(biases);
    // Stated: 0.070 mL in all; a mean of five scatters by 0.015/√5 = 0.007 mL.
    expect((biases[0] ?? 0) - (biases[3] ?? 0)).toBeGreaterThan(0.04);
  });

  it('a mistyped tag is corrected, and the old one still finds the flask', async () => {
    expect(await demo.tagsFoundBy('VF-0205-02')).toEqual(['VF-0250-02']);
    const vessel = await demo.vesselTagged('VF-0250-02');
    expect(vessel.formerTags).toEqual(['VF-0205-02']);
    expect(vessel.calibrations.length).toBe(4);
    expect(vessel.revisions[1]).toMatchObject({
      reason: 'Two digits of the tag were swapped when the flask was registered',
      changed: [{ field: 'tag', before: 'VF-0205-02', after: 'VF-0250-02' }],
    });
  });

  it('a mistyped class is corrected before the flask is judged by it', async () => {
    const vessel = await demo.vesselTagged('VF-0100-06');
    expect(vessel.tolerance).toEqual({ standard: 'ISO 1042', edition: '1998', class: 'B' });
    expect(vessel.revisions.length).toBe(2);
    // ISO 1042:1998, 100 mL class B: 0.2 mL.
    expect(onlyPoint('2026-09-VF-0100-06')).toMatchObject({ toleranceMl: 0.2, verdict: 'pass', meetsClass: 'B' });
  });

  it('one is marked for 27 °C, and its volume is stated there', () => {
    expect(held('2026-09-VF-0500-02').vessel.referenceTemperatureC).toBe('27');
  });

  it('some are marked in per cent: of each mark of a beaker, of the whole cup otherwise', () => {
    const limits = (key: string) => held(key).points.map((point) => point.toleranceMl);
    expect(limits('2026-09-BK-0600-01')).toEqual([10, 20]);
    expect(limits('2026-09-CF-0100-01')).toEqual([2.5, 3.75]);
    expect(limits('2026-09-OT-0030-01')).toEqual([1.5, 1.5, 1.5]);
  });

  it('a flask marked In is poured out without a verdict', () => {
    const key = '2026-09-VF-0025-02-poured';
    expect(held(key)).toMatchObject({ basis: 'deliver', verdict: 'none-stated' });
    expect(codes(onlyPoint(key).findings)).toContain('other-basis');
  });

  it('a beaker broke', async () => {
    expect(await demo.vesselTagged('BK-0250-01')).toMatchObject({ inUse: false });
  });
});

describe('stories of trials', () => {
  it('a spilled trial is excluded with cause and reason, and both verdicts stand', () => {
    const key = '2026-09-VF-0050-02';
    expect(trial(key, 4).exclusion).toMatchObject({ cause: 'spill', reason: 'Splashed on the way to the balance' });
    expect(onlyPoint(key)).toMatchObject({ n: 10, nRecorded: 11, verdict: 'pass' });
    expect(onlyPoint(key).verdictWithExcluded).not.toBeNull();
    expect(codes(trial(key, 11).findings)).not.toContain('beyond-plan');
  });

  it('a slip is corrected, with the old value kept and nothing excluded', () => {
    const key = '2026-09-VF-0050-03';
    const { filledG, corrections, used, volumeMl } = trial(key, 6);
    expect(corrections[0]).toMatchObject({ field: 'filledG', value: used.filledG });
    expect(filledG).not.toBe(used.filledG);
    expect([...filledG].sort()).toEqual([...used.filledG].sort());
    expect(Math.abs(volumeMl - 50.01)).toBeLessThan(4 * 0.0101);
    expect(onlyPoint(key)).toMatchObject({ n: 10, nRecorded: 10 });
  });

  it('warm water misleads simple division, not the corrected volume', () => {
    const warm = trial('2026-09-VF-0100-07', 5);
    expect(codes(warm.findings)).toContain('water-air-difference-strong');
    expect(codes(onlyPoint('2026-09-VF-0100-07').findings)).toContain('water-temperature-range');
    expect(Math.abs(warm.volumeMl - 100.018)).toBeLessThan(4 * 0.0151);
    const cool = trial('2026-09-VF-0100-07', 4);
    // Tanaka 2001: from 21 to 27.6 °C water grows by 0.16 %, that is 0.16 mL of 100 mL.
    expect(cool.simpleVolumeMl - warm.simpleVolumeMl).toBeGreaterThan(0.1);
  });

  it('the wrong line was asked about, answered, and excluded', () => {
    const wrong = trial('2026-09-MC-0100-02', 4);
    expect(codes(wrong.findings)).toContain('volume-unusual');
    expect(wrong).toMatchObject({ exclusion: { cause: 'wrong-mark' } });
    expect(wrong.note).toBe('Filled to the wrong line; written down all the same.');
  });

  it('an exclusion is taken back', () => {
    expect(trial('2025-05-SP-0010-01', 3).exclusion).toBeNull();
    expect(onlyPoint('2025-05-SP-0010-01').n).toBe(5);
  });

  it('trials beyond the plan say why', () => {
    const extra = held('2026-09-VF-0200-01').trials.slice(5);
    expect(extra.map((one) => codes(one.findings).includes('beyond-plan'))).toEqual([true, true]);
    expect(extra.map((one) => one.note)).toEqual(Array(2).fill('One more for a student who came late.'));
  });

  it('one was taken away too soon, which costs class AS but not A', () => {
    expect(codes(trial('2026-09-SP-0025-01', 7).findings)).toContain('waiting-time-outside');
    expect(onlyPoint('2026-09-SP-0025-01').meetsClass).toBe('A');
  });
});

describe('stories of weighing', () => {
  it('dried once: every trial has the dry reading of the first', () => {
    const { trials, points } = held('2026-09-VF-0025-01');
    expect(new Set(trials.map((one) => one.emptyG)).size).toBe(1);
    expect(trials.slice(1).every((one) => one.emptySource === 'reused' && one.emptyOf === 1)).toBe(true);
    expect(codes(points[0]?.findings ?? [])).toContain('empty-reused');
  });

  it('never emptied: each filled reading is the next empty one', () => {
    const { trials } = held('2026-09-BU-0050-01');
    const carried = trials.filter((one) => one.emptySource === 'carried');
    expect(carried.length).toBe(12);
    expect(carried.map((one) => one.emptyG)).toEqual(carried.map((one) => trials[(one.emptyOf ?? 0) - 1]?.filledG));
    expect(trials.flatMap((one) => codes(one.findings))).not.toContain('empty-differs-from-source');
  });

  it('tared: each trial starts from zero, digits and all', () => {
    expect(new Set(held('2026-09-SP-0001-02').trials.map((one) => one.emptyG))).toEqual(new Set(['0.0000']));
  });

  it('a balance too coarse: rounding alone is as large as the tolerance', () => {
    const { pointMl, toleranceMl } = onlyPoint('2026-09-SP-0001-01');
    expect(pointMl).toBe('1');
    expect(trial('2026-09-SP-0001-01', 1).filledG).toMatch(/^\d+\.\d\d$/);
    // JCGM 100:2008, F.2.2.1: a step d has the standard uncertainty d/√12; two readings d/√6; expanded with k = 2.
    expect((2 * 0.01) / Math.sqrt(6)).toBeGreaterThan(toleranceMl ?? Infinity);
  });

  it('a temperature is assumed, with how far it may be off', () => {
    const { trials, instruments } = held('2026-09-MC-0250-01');
    expect(instruments.thermometerId).toBeUndefined();
    expect(trials.every((one) => one.waterTemperatureHalfWidthC === '2')).toBe(true);
    expect(trials.every((one) => codes(one.findings).includes('water-temperature-assumed'))).toBe(true);
  });

  it('an overdue thermometer is found out in the newest term, and no other instrument ever', () => {
    const overdue = [...calibrations]
      .filter(([, one]) => one.points.some((point) => codes(point.findings).includes('instrument-overdue')))
      .map(([key]) => key);
    expect(overdue.sort()).toEqual(['2026-09-GP-0005-01', '2026-09-SP-0005-02', '2026-09-SP-0010-02']);
  });

  it('nobody looked at one burette', () => {
    const careless = [...calibrations].filter(([, one]) => codes(one.findings).includes('not-inspected'));
    expect(careless.map(([key]) => key)).toEqual(['2026-09-BU-0010-01']);
  });

  it('the air was read again', () => {
    expect(held('2026-09-VF-0250-03').conditionReadings.map((reading) => reading.afterTrial)).toEqual([3]);
  });

  it('both balances have three certificates', async () => {
    const page = await demo.get<{ items: { id: string; tag: string; version: number; overdue: boolean }[] }>(
      '/api/instruments',
    );
    const versions = Object.fromEntries(page.items.map((one) => [one.tag, one.version]));
    expect(versions).toEqual({ 'AB-1': 3, 'TL-1': 3, 'TH-1': 3, 'TH-2': 1, 'TH-3': 1, 'BA-1': 1, 'HY-1': 1 });
  });
});

describe('stories of calibrations', () => {
  it('one on the wrong vessel is abandoned, with its reason; its volumes are those of the other flask', async () => {
    const wrong = held('2026-09-VF-0100-02-abandoned');
    expect(wrong.state).toBe('abandoned');
    expect(wrong.acts.at(-1)).toMatchObject({ reason: 'The flask on the balance was VF-0100-03' });
    const mean = wrong.points[0]?.meanMl ?? 0;
    const own = onlyPoint('2026-09-VF-0100-02').meanMl ?? 0;
    const other = onlyPoint('2026-09-VF-0100-03').meanMl ?? 0;
    expect(Math.abs(mean - other)).toBeLessThan(Math.abs(mean - own) / 2);
    expect((await demo.vesselTagged('VF-0100-02')).calibrations.length).toBe(5);
  });

  it('one is open half-way, and it alone', async () => {
    const page = await demo.get<{ items: { tag: string; trialsRecorded: number; plannedTrials: number }[] }>(
      '/api/calibrations?state=open',
    );
    expect(page.items).toMatchObject([{ tag: 'VF-0100-05', trialsRecorded: 5, plannedTrials: 10 }]);
    expect(held('2026-09-VF-0100-05').final).toBe(false);
  });

  it('one went back to open when a note turned up', () => {
    const again = held('2026-01-VF-1000-01');
    expect(again.state).toBe('measured');
    expect(again.acts.map((act) => act.act)).toEqual([
      'calibration-measured',
      'calibration-reopened',
      'calibration-measured',
    ]);
    expect(again.points[0]).toMatchObject({ n: 4, nRecorded: 5 });
  });

  it('one was stopped by the bell', () => {
    const short = held('2026-01-MC-0100-01');
    expect(short.points.map((point) => point.n)).toEqual([3, 2]);
    expect(short.acts.at(-1)).toMatchObject({ reason: 'The bell rang before the last trial' });
  });
});

describe('papers', () => {
  const listed = () => demo.get<{ items: CertificateListItem[] }>('/api/certificates?limit=200');

  it('are fourteen, one of them the amended second', async () => {
    const { items } = await listed();
    expect(items).toHaveLength(14);
    const amended = items.filter((item) => item.replaces !== null);
    expect(amended).toHaveLength(1);
    expect(items.find((item) => item.number === amended[0]?.replaces)).toMatchObject({ state: 'replaced' });
  });

  it('print a verdict where the tolerance is marked or was confirmed, and none where nobody looked', async () => {
    const { items } = await listed();
    const papers = await Promise.all(items.map((item) => demo.get<Certificate>(`/api/certificates/${item.number}`)));
    expect(papers.filter((one) => one.verdictPrinted).length).toBeGreaterThanOrEqual(10);
    expect(papers.filter((one) => one.toleranceBasis.kind === 'not-checked').map((one) => one.tag)).toEqual([
      'VF-1000-01',
    ]);
    expect(papers.flatMap((one) => one.differences)).toEqual([]);
    expect(papers.every((one) => one.demonstration)).toBe(true);
  });

  it('are signed by people who cannot sign in', async () => {
    const { people } = await demo.logbook.read(async (db) => ({ people: await listPeople(db) }));
    expect(people).toHaveLength(4);
    expect(people.filter((person) => person.canSignIn)).toEqual([]);
  });
});

describe('solutions', () => {
  const found = async (words: string): Promise<Preparation> => {
    const { items } = await demo.get<{ items: Preparation[] }>(`/api/preparations?search=${words}`);
    return demo.get<Preparation>(`/api/preparations/${items[0]?.id ?? ''}`);
  };

  it('are a standard, one diluted from it, a titrant set against it, each near what its readings say', async () => {
    // 5.1062 g · 0.9998 / (204.22 g/mol · 0.250 L), handbook molar mass from memory: within a flask of class A.
    expect(Math.abs((await found('phthalate 0.1')).result.value / 0.09999 - 1)).toBeLessThan(0.0015);
    expect(Math.abs((await found('phthalate 0.01')).result.value / 0.009999 - 1)).toBeLessThan(0.003);
    // 25 mL of that by 24.85 mL from the burette, the mean of four; class B allows 0.1 mL.
    const hydroxide = await found('hydroxide');
    expect(Math.abs(hydroxide.result.value / (0.09999 * (25 / 24.85)) - 1)).toBeLessThan(0.006);
    expect(hydroxide.result.approximate).toBe(false);
    expect(hydroxide.vesselsInStock.map(({ tag }) => tag)).toEqual(['VF-0250-02']);
  });

  it('one was made in a flask that failed later, which matters for what was wanted', async () => {
    const flask = await demo.vesselTagged('VF-0050-01');
    const { items } = await demo.get<TouchedList>(`/api/vessels/${flask.id}/preparations`);
    expect(items).toMatchObject([{ title: 'Copper(II) sulfate 0.05 mol/L', shift: { matters: true } }]);
  });
});

it('lets nobody change a column of what a term leaves behind without the journal noticing', () => {
  const { unnoticed, empty } = columnsUnnoticed(demo.logbook.file, (table) => TERM.includes(table));
  expect({ unnoticed, empty }).toEqual({ unnoticed: [], empty: [] });
});
