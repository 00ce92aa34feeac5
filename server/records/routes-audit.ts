import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { randomInt } from 'node:crypto';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { listCertificates, type StoredCertificate } from '../certificates/store.ts';
import { certificateItem } from '../certificates/view.ts';
import { localDay } from '../clock.ts';
import type { Logbook, Reading } from '../db/logbook.ts';
import { listInstruments } from '../instruments/store.ts';
import { instrumentOnWire } from '../instruments/view.ts';
import { headOf } from '../journal/store-list.ts';
import { RECORDS } from '../people/access.ts';
import { audit, sample, sampleQuery, type Audit, type Sample } from './contract-audit.ts';
import {
  abandonedCalibrations,
  auditCounts,
  certificateCounts,
  correctedTrials,
  drawn,
  excludedTrials,
  samplingFrame,
  uncheckedCalibrations,
} from './store-audit.ts';

const LONGEST = 50;

const paperGaps = async (db: Reading): Promise<Pick<Audit['gaps'], 'amended' | 'withdrawn'>> => {
  const of = (state: 'replaced' | 'withdrawn'): Promise<StoredCertificate[]> =>
    listCertificates(db, { state, limit: LONGEST });
  return {
    amended: (await of('replaced')).map((one) => ({ ...certificateItem(one), reason: one.replacedBecause })),
    withdrawn: (await of('withdrawn')).map((one) => ({
      ...certificateItem(one),
      reason: one.withdrawal?.reason ?? '',
    })),
  };
};

const gather = async (db: Reading, day: string): Promise<Audit> => {
  const counts = await auditCounts(db);
  const head = await headOf(db);
  const overdue = await listInstruments(db, { overdueOn: day, limit: LONGEST });
  return {
    counts: { ...counts, certificates: await certificateCounts(db), entries: head.number },
    head,
    gaps: {
      unchecked: await uncheckedCalibrations(db),
      overdueInstruments: overdue.map((stored) => instrumentOnWire(stored, day)),
      excludedTrials: await excludedTrials(db),
      correctedTrials: await correctedTrials(db),
      abandoned: await abandonedCalibrations(db),
      ...(await paperGaps(db)),
    },
  };
};

/** Without replacement; the same seed draws the same places from the same number. */
const places = (count: number, size: number, next: (below: number) => number): number[] => {
  const chosen = new Set<number>();
  while (chosen.size < Math.min(size, count)) chosen.add(next(count));
  return [...chosen];
};

const draw = async (db: Reading, size: number, seed: number): Promise<Sample> => {
  const stream = xoroshiro128plus(seed);
  const next = (below: number): number => uniformInt(stream, 0, below - 1);
  const { states, count: drawnFrom } = await samplingFrame(db);
  const items: Sample['items'] = [];
  for (const place of places(drawnFrom, size, next)) items.push(await drawn(db, states, place, next));
  return { seed, drawnFrom, items };
};

/** The auditor's overview, and a random sample to follow from the certificate down to the typed reading. */
export const auditRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.get('/audit', { config: { access: RECORDS }, schema: { response: { 200: audit } } }, async () =>
    logbook.read((db) => gather(db, localDay(clock()))),
  );

  app.get(
    '/audit/sample',
    { config: { access: RECORDS }, schema: { querystring: sampleQuery, response: { 200: sample } } },
    async (request) => {
      const { size, seed } = request.query;
      return logbook.read((db) => draw(db, size, seed ?? randomInt(2 ** 31 - 1)));
    },
  );
};
