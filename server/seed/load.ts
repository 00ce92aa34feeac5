/**
 * Fills an empty logbook with a made-up stockroom, through the same stores and the same journal as a person's work, one
 * write a calibration; many share a COMMIT.
 */
import { beginCalibration } from '../calibrations/begin.ts';
import { settle, type Settled } from '../calibrations/beginning.ts';
import type { CalibrationBody } from '../calibrations/contract.ts';
import { moveCalibration } from '../calibrations/moving.ts';
import { recordTrial } from '../calibrations/recording.ts';
import type { Logbook } from '../db/logbook.ts';
import { findVessel, listVessels, type StoredVessel } from '../glassware/store.ts';
import { registerVessel } from '../glassware/register.ts';
import { markDemonstration, readLaboratory, saveLaboratory } from '../laboratory/store.ts';
import { newId } from '../requests.ts';
import { madeUpVessel, readingsOf, type MadeUpVessel } from './made-up.ts';

export interface Seeding {
  logbook: Logbook;
  /** Sets the clock that the logbook was opened with. */
  setClock: (at: Date) => void;
  actor: string;
  vessels: number;
  terms: number;
  trials: number;
  seed: number;
  say: (line: string) => void;
}

/** The logbook holds something already; the message says so in plain sentences. */
export class SeedRefused extends Error {}

const AT_ONCE = 64;
const TERM_DAYS = 182;
const DAY_MS = 86_400_000;
/** Days of a term on which somebody weighs. */
const WEIGHING_DAYS = 40;
const INTERVAL_MONTHS = 12;
const requestId = 'seed';

interface Registered {
  made: MadeUpVessel;
  vessel: StoredVessel;
}

const refuseFilled = async (logbook: Logbook): Promise<void> => {
  const [first] = await logbook.read((db) => listVessels(db, { limit: 1 }));
  if (first) throw new SeedRefused('This logbook holds vessels already. Name an empty folder in TAREBOOK_DATA.');
};

const inGroups = async (count: number, work: (index: number) => Promise<void>): Promise<void> => {
  for (let start = 0; start < count; start += AT_ONCE)
    await Promise.all(Array.from({ length: Math.min(AT_ONCE, count - start) }, (_, step) => work(start + step)));
};

const begin = ({ logbook, actor, vessels, terms, trials }: Seeding) =>
  logbook.write({ actor, requestId }, async ({ trx, at, journal }) => {
    await markDemonstration(trx, at, actor);
    journal({
      act: 'demonstration-loaded',
      object: 'logbook/1',
      before: null,
      after: { vessels, calibrations: vessels * terms, trials: vessels * terms * trials },
    });
    const before = await readLaboratory(trx);
    const after = { ...before, version: before.version + 1, intervalMonths: INTERVAL_MONTHS };
    await saveLaboratory(trx, after);
    journal({ act: 'laboratory-changed', object: 'laboratory/1', before: { ...before }, after });
    return { status: 200, body: null };
  });

const register = async ({ logbook, actor, vessels, seed }: Seeding): Promise<Registered[]> => {
  const registered: Registered[] = [];
  await inGroups(vessels, async (index) => {
    const made = madeUpVessel(seed, index);
    const { body: vessel } = await logbook.write({ actor, requestId }, async (writing) => ({
      status: 201,
      body: await registerVessel(writing, made.body, newId()),
    }));
    registered[index] = { made, vessel };
  });
  return registered;
};

/** What a calibration of each piece begins with; settled once a term, since all of a piece begin alike. */
const settledPieces = async (
  { logbook, trials }: Seeding,
  registered: readonly Registered[],
  performedOn: string,
): Promise<Map<string, Settled>> => {
  const settled = new Map<string, Settled>();
  for (const { made, vessel } of registered) {
    if (settled.has(made.piece)) continue;
    const body: CalibrationBody = {
      points: [made.body.nominalVolumeMl],
      plannedTrials: trials,
      performedOn,
      conditions: { airTemperatureC: '21.2', airPressureHpa: '1004', relativeHumidityPercent: '48', inspected: true },
      instruments: {},
    };
    const piece = await logbook.read(async (db) => {
      const present = await findVessel(db, vessel.id);
      return present && settle(db, present, body, performedOn);
    });
    if (piece) settled.set(made.piece, piece);
  }
  return settled;
};

const calibrate = (
  { logbook, actor, trials, seed }: Seeding,
  { made, vessel }: Registered,
  { index, term, settled }: { index: number; term: number; settled: Settled },
) =>
  logbook.write({ actor, requestId }, async (writing) => {
    const id = newId();
    await beginCalibration(writing, vessel, { id, settled });
    const draw = readingsOf(seed, index, term);
    for (let number = 1; number <= trials; number += 1) {
      const body = made.trial(draw);
      await recordTrial(writing, { calibrationId: id, number, body, requestKey: `${requestId}-${id}-${number}` });
    }
    const stored = { id, state: 'open', version: trials + 1, acts: [], vessel } as const;
    return moveCalibration(writing, stored, {
      ...{ act: 'calibration-measured', state: 'measured', vesselVersion: vessel.version, reason: null, facts: null },
    });
  });

/** @throws SeedRefused where the logbook is not empty */
export const seedLogbook = async (seeding: Seeding): Promise<void> => {
  const { logbook, setClock, terms, vessels, say } = seeding;
  await refuseFilled(logbook);
  const first = Date.now() - terms * TERM_DAYS * DAY_MS;
  setClock(new Date(first));
  await begin(seeding);
  const registered = await register(seeding);
  say(`${vessels} vessels are registered.`);
  for (let term = 0; term < terms; term += 1) {
    const perDay = Math.ceil(vessels / WEIGHING_DAYS);
    for (let day = 0; day * perDay < vessels; day += 1) {
      const today = new Date(first + (term * TERM_DAYS + day + 1) * DAY_MS);
      setClock(today);
      const pieces = await settledPieces(seeding, registered, today.toISOString().slice(0, 10));
      await inGroups(Math.min(perDay, vessels - day * perDay), async (step) => {
        const index = day * perDay + step;
        const one = registered[index] as Registered;
        await calibrate(seeding, one, { index, term, settled: pieces.get(one.made.piece) as Settled });
      });
    }
    say(`Term ${term + 1} of ${terms} …`);
  }
};
