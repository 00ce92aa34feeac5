/** Fetches what a solution names from the register: vessels, balances, solutions made before; collects what is wrong. */
import { withPools } from '../calibrations/store-pool.ts';
import { loadCalibrations } from '../calibrations/store.ts';
import { localDay } from '../clock.ts';
import type { Reading } from '../db/logbook.ts';
import { dueOf } from '../glassware/store-due.ts';
import { findVessel, type StoredVessel } from '../glassware/store.ts';
import { findInstrument, type StoredInstrument } from '../instruments/store.ts';
import { finding, type FindingCode } from '../metrology/findings.ts';
import type { Basis } from '../metrology/record.ts';
import type { Finding } from '../metrology/result.ts';
import type { MadeBefore } from '../metrology/solutions/recipe.ts';
import type { AtomCount } from '../metrology/solutions/substance.ts';
import type { VesselInUse } from '../metrology/solutions/vessel-in-use.ts';
import { finishedIdsOf } from '../over-time/store.ts';
import { invalid, type FieldProblem } from '../problem.ts';
import type { SolutionResult, VesselAtMark } from './contract.ts';
import { readFormula } from './formula.ts';
import { atMark, betweenReadings, usableCalibration, useRefusal, type GoodCalibration, type Use } from './in-use.ts';
import {
  findPreparation,
  instrumentsOfPreparation,
  vesselsOfPreparation,
  type PreparationInstrument,
  type PreparationVessel,
  type StoredPreparation,
} from './store.ts';
import { endsOf } from './store-decisions.ts';

type VesselUse = SolutionResult['vessels'][number]['use'];

/** Calibrations of a vessel that give a volume, the newest first. */
export const usableCalibrations = async (db: Reading, vesselId: string): Promise<GoodCalibration[]> => {
  const ids = (await finishedIdsOf(db, vesselId)).reverse();
  const stored = await withPools(db, await loadCalibrations(db, ids));
  return ids.flatMap((id) => {
    const one = stored.get(id);
    return (one && usableCalibration(one)) ?? [];
  });
};

/** The newest calibration of a vessel that gives a volume. */
export const newestUsable = async (db: Reading, vesselId: string): Promise<GoodCalibration | null> => {
  for (const id of (await finishedIdsOf(db, vesselId)).reverse()) {
    const stored = (await withPools(db, await loadCalibrations(db, [id]))).get(id);
    const usable = stored ? usableCalibration(stored) : null;
    if (usable) return usable;
  }
  return null;
};

/** A part of a scale by its readings, whose difference is no mark. */
const markWords = ({ nominalMl, between }: VesselInUse): string =>
  between === undefined || between.fromMl === 0 ? `${nominalMl} mL` : `from ${between.fromMl} to ${between.toMl} mL`;

export class Gathering {
  readonly db: Reading;
  /** What was due by then, or had expired, is told. */
  readonly day: string;
  readonly #actor: string;
  readonly #base: string;
  readonly #uses = new Map<string, Use | null>();
  readonly #refusals: FieldProblem[] = [];
  readonly findings: Finding[] = [];
  /** Each vessel once for each of its uses. */
  readonly vessels: SolutionResult['vessels'] = [];
  readonly vesselsInStock: PreparationVessel[] = [];
  readonly instruments: PreparationInstrument[] = [];

  /** `base` points at the solution in the body; `madeOn` is the day it is made, left out: the present one. */
  constructor(
    db: Reading,
    { actor, now, base = '#', madeOn }: { actor: string; now: Date; base?: string; madeOn?: string },
  ) {
    this.db = db;
    this.#actor = actor;
    this.#base = base;
    this.day = madeOn ?? localDay(now);
  }

  refuse(pointer: string, detail: string): null {
    this.#refusals.push({ pointer: pointer.replace('#', this.#base), detail });
    return null;
  }

  say(code: FindingCode, detail: string): void {
    if (!this.findings.some((one) => one.code === code && one.detail === detail))
      this.findings.push(finding(code, detail));
  }

  /** @throws Problem with everything that was refused on the way */
  settle(): void {
    if (this.#refusals.length > 0) throw invalid(this.#refusals);
  }

  async formula(text: string, pointer: string): Promise<AtomCount[]> {
    const read = await readFormula(text);
    if (!('refused' in read)) return read.atoms;
    this.refuse(pointer, read.refused);
    return [];
  }

  async #use(vesselId: string): Promise<Use | null> {
    const known = this.#uses.get(vesselId);
    if (known !== undefined) return known;
    const vessel = await findVessel(this.db, vesselId);
    const use = vessel && { vessel, calibration: await newestUsable(this.db, vesselId), actor: this.#actor };
    this.#uses.set(vesselId, use);
    return use;
  }

  async vesselAt(named: VesselAtMark, basis: Basis, pointer: string): Promise<VesselInUse | null> {
    const use = await this.#use(named.vesselId);
    if (!use) return this.refuse(`${pointer}/vesselId`, 'There is no vessel with this id.');
    const pointMl = named.pointMl ?? use.vessel.nominalVolumeMl;
    const refused = useRefusal(use.vessel, basis, use.vessel.nominalVolumeMl);
    if (refused !== null) return this.refuse(`${pointer}/vesselId`, refused);
    const offScale = useRefusal(use.vessel, basis, pointMl);
    if (offScale !== null) return this.refuse(`${pointer}/pointMl`, offScale);
    return this.#used(use, atMark(use, pointMl), basis === 'contain' ? 'made-up' : 'delivered');
  }

  /** A burette between two readings of one titration. */
  async burette(vesselId: string, from: number, to: number, pointer: string): Promise<VesselInUse | null> {
    const use = await this.#use(vesselId);
    if (!use) return this.refuse('#/buretteId', 'There is no vessel with this id.');
    const { vessel } = use;
    const refused =
      vessel.kind === 'burette' || vessel.kind === 'piston-pipette'
        ? useRefusal(vessel, 'deliver', vessel.nominalVolumeMl)
        : `${vessel.tag} is no burette.`;
    if (refused !== null) return this.refuse('#/buretteId', refused);
    if (to <= from)
      return this.refuse(
        `${pointer}/buretteToMl`,
        to === from
          ? 'Both readings are the same: nothing was delivered. Give the reading after the titration.'
          : 'The reading after the titration must be above the one before.',
      );
    if (to > Number(vessel.nominalVolumeMl))
      return this.refuse(`${pointer}/buretteToMl`, `The scale of ${vessel.tag} ends at ${vessel.nominalVolumeMl} mL.`);
    return this.#used(use, betweenReadings(use, from, to), 'titrated');
  }

  async #used({ vessel, calibration }: Use, used: VesselInUse, use: VesselUse): Promise<VesselInUse> {
    const calibrationId = used.measured === null ? null : (calibration?.id ?? null);
    const volumeMl = used.measured?.meanMl ?? used.nominalMl;
    const row = { vesselId: vessel.id, tag: vessel.tag, calibrationId, volumeMl, nominalMl: used.nominalMl, use };
    if (!this.vessels.some((one) => JSON.stringify(one) === JSON.stringify(row))) this.vessels.push(row);
    await this.#tell(vessel, calibration, used);
    return used;
  }

  async #tell(vessel: StoredVessel, calibration: GoodCalibration | null, used: VesselInUse): Promise<void> {
    const { tag } = vessel;
    if (used.measured === null) {
      if (used.toleranceMl === null)
        this.say(
          'vessel-without-tolerance',
          `${tag} has neither a calibration nor a tolerance: its volume counts as exact.`,
        );
      else
        this.say(
          'vessel-not-calibrated',
          `${tag} was not calibrated${calibration === null ? '' : ' at this mark'}: ${markWords(used)} within ${used.toleranceMl} mL.`,
        );
      return;
    }
    const dueOn = await dueOf(this.db, vessel.id);
    if (dueOn !== null && dueOn < this.day)
      this.say('vessel-overdue', `The calibration of ${tag} was due on ${dueOn}.`);
    if (calibration?.result.verdict === 'fail')
      this.say('vessel-failed', `${tag} does not keep its tolerance; its measured volume counts.`);
  }

  /** A balance in its present version. */
  async balance(id: string): Promise<StoredInstrument | null> {
    const found = await findInstrument(this.db, id);
    if (!found) return this.refuse('#/balanceId', 'There is no balance with this id.');
    const { tag, kind, dueOn } = found.facts;
    if (kind !== 'balance') return this.refuse('#/balanceId', `${tag} is a ${kind}, not a balance.`);
    if (!found.inUse) return this.refuse('#/balanceId', `${tag} is out of use.`);
    if (dueOn !== undefined && dueOn < this.day)
      this.say('instrument-overdue', `The certificate of ${tag} ran out on ${dueOn}.`);
    this.instruments.push({ instrumentId: found.id, version: found.version, use: 'balance' });
    return found;
  }

  /** A solution made before, with all that was used for it. */
  async preparation(id: string, pointer: string): Promise<{ stored: StoredPreparation; made: MadeBefore } | null> {
    const stored = await findPreparation(this.db, id);
    if (!stored) return this.refuse(pointer, 'There is no preparation with this id.');
    const { number, expiresOn } = stored;
    if (expiresOn !== null && expiresOn < this.day) this.say('stock-expired', `${number} expired on ${expiresOn}.`);
    if ((await endsOf(this.db, [id])).has(id))
      this.say('stock-ended', `${number} is recorded as used up or discarded.`);
    if (stored.result.approximate)
      this.say('stock-approximate', `${number} is approximate until standardised, and so is what is made from it.`);
    const before = await vesselsOfPreparation(this.db, id);
    this.vesselsInStock.push(...before.map((one) => ({ ...one, use: 'in-stock' as const })));
    const instruments = await instrumentsOfPreparation(this.db, id);
    this.instruments.push(...instruments.map((one) => ({ ...one, use: 'in-stock' as const })));
    return { stored, made: { known: 'preparation', key: `preparation:${id}`, recipe: stored.recipe } };
  }
}
