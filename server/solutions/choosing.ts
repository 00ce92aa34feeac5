/** Which vessel to take for a job: kinds with their classes, then the vessels of the register, then pairs of them. */
import { localDay } from '../clock.ts';
import type { Reading } from '../db/logbook.ts';
import { findVessel, type StoredVessel } from '../glassware/store.ts';
import type { VesselKind } from '../metrology/record.ts';
import {
  type Candidate,
  isWithinTolerance,
  isWithinUncertainty,
  type Judged,
  kindsFor,
  needsOf,
  rankCandidates,
  type Wanted,
} from '../metrology/solutions/choose.ts';
import { twoDeliveries } from '../metrology/solutions/two-deliveries.ts';
import type { VesselInUse } from '../metrology/solutions/vessel-in-use.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { type ToleranceRow, rowToleranceMl } from '../metrology/tolerance.ts';
import type { ChoiceQuery, ChoiceReply } from './contract-choice.ts';
import { newestUsable } from './gathering.ts';
import { atMark, type GoodCalibration } from './in-use.ts';
import { findCandidates, type FoundCandidate } from './store-candidates.ts';

/** A scale may be this much longer than the volume; beyond, its marks are too far apart for it. */
const LONGEST_SCALE = 10;
const MOST_VESSELS = 60;
const MOST_PAIRS = 6;

const ONE_MARK: readonly VesselKind[] = ['volumetric-flask', 'single-volume-pipette'];
const isOneMark = (kind: VesselKind): boolean => ONE_MARK.includes(kind);

export interface Known {
  vessel: StoredVessel;
  calibration: GoodCalibration | null;
  overdue: boolean;
  use: VesselInUse;
}

/** A vessel of the register at a volume, with its newest calibration that gives one. */
export const known = async (
  db: Reading,
  found: FoundCandidate,
  by: { volumeMl: string | null; actor: string; now: Date },
): Promise<Known | null> => {
  const vessel = await findVessel(db, found.id);
  if (!vessel) return null;
  const calibration = found.latestCalibrationId === null ? null : await newestUsable(db, found.id);
  const use = atMark(
    { vessel, calibration, actor: by.actor },
    isOneMark(vessel.kind) ? vessel.nominalVolumeMl : (by.volumeMl ?? vessel.nominalVolumeMl),
  );
  return { vessel, calibration, overdue: found.dueOn !== null && found.dueOn < localDay(by.now), use };
};

const candidateOf = ({ vessel, overdue, use }: Known): Candidate => ({
  id: vessel.id,
  kind: vessel.kind,
  basis: vessel.basis,
  overdue,
  nominalMl: Number(vessel.nominalVolumeMl),
  use,
});

const onWire = ({ vessel, calibration, use }: Known, judged: Judged): ChoiceReply['vessels'][number] => ({
  id: vessel.id,
  tag: vessel.tag,
  kind: vessel.kind,
  nominalVolumeMl: vessel.nominalVolumeMl,
  location: vessel.location,
  toleranceMl: use.toleranceMl,
  calibratedOn: use.measured === null ? null : (calibration?.performedOn ?? null),
  measuredMl: use.measured?.meanMl ?? null,
  oneUseMl: judged.oneUseMl,
  adequate: judged.adequate,
  against: judged.against,
});

/** Rows of the standards for a kind at the smallest size that will do. */
const classesOf = (kind: VesselKind, wanted: Wanted): ChoiceReply['kinds'][number]['classes'] => {
  const fits = ({ nominalMl }: ToleranceRow): boolean =>
    nominalMl !== null && (isOneMark(kind) ? nominalMl === wanted.volumeMl : nominalMl >= wanted.volumeMl);
  const { basis } = needsOf(wanted.job);
  const rows = toleranceRows.filter(
    (row) => row.kind === kind && (basis === null || row.basis === basis || row.basis === 'either') && fits(row),
  );
  const smallest = new Map<string, ToleranceRow>();
  for (const row of rows) {
    const name = `${row.standard} ${row.edition} ${row.class}`;
    const before = smallest.get(name);
    if (!before || (row.nominalMl ?? 0) < (before.nominalMl ?? 0)) smallest.set(name, row);
  }
  return [...smallest.values()].flatMap((row) => {
    const nominalMl = row.nominalMl ?? wanted.volumeMl;
    const toleranceMl = rowToleranceMl({ kind, nominalVolumeMl: String(nominalMl) }, row, wanted.volumeMl);
    if (toleranceMl === null) return [];
    const { standard, edition } = row;
    const adequate = isWithinTolerance(toleranceMl, wanted);
    return [{ standard, edition, class: row.class, nominalMl, toleranceMl, adequate }];
  });
};

/**
 * Why ware of a kind the job asks for will not do, by what the standards allow; null where it can. Ware that errs by more
 * than is wanted at its best is not made certain enough by a calibration.
 */
const againstStandards = (
  kind: VesselKind,
  wanted: Wanted,
  classes: ChoiceReply['kinds'][number]['classes'],
): ChoiceReply['kinds'][number]['against'] => {
  const sizes = toleranceRows.flatMap((row) => (row.kind === kind ? (row.nominalMl ?? []) : []));
  if (sizes.length > 0 && sizes.every((nominalMl) => nominalMl < wanted.volumeMl)) return 'too-small';
  const { accuracyPercent, standardised, job, volumeMl } = wanted;
  if (accuracyPercent === null || standardised || job === 'hold' || classes.length === 0) return null;
  return classes.every(({ toleranceMl }) => toleranceMl > (volumeMl * accuracyPercent) / 100) ? 'too-uncertain' : null;
};

/** Kinds for a job; one that a vessel at hand shows to be good enough is, whatever the standards allow. */
const kindsWith = (wanted: Wanted, vessels: ChoiceReply['vessels']): ChoiceReply['kinds'] =>
  kindsFor(wanted.job).map(({ kind, against }) => {
    if (against !== null) return { kind, against, classes: [] };
    const classes = classesOf(kind, wanted);
    const isAtHand = vessels.some((vessel) => vessel.kind === kind && vessel.adequate);
    const refused = isAtHand ? null : againstStandards(kind, wanted, classes);
    return { kind, against: refused, classes: refused === null ? classes : [] };
  });

/** Two deliveries by one-mark pipettes, asked where no single vessel of the register will do. */
const pairsFor = async (
  db: Reading,
  wanted: Wanted,
  by: { actor: string; now: Date },
): Promise<ChoiceReply['pairs']> => {
  const search = { kinds: ['single-volume-pipette'] as const, basis: 'deliver' as const };
  const found = await findCandidates(db, { ...search, fromMl: 0, toMl: wanted.volumeMl, limit: MOST_VESSELS });
  const pipettes: Known[] = [];
  for (const one of found) {
    const pipette = await known(db, one, { ...by, volumeMl: null });
    if (pipette && !pipette.overdue && (pipette.use.measured !== null || pipette.use.toleranceMl !== null))
      pipettes.push(pipette);
  }
  const named = new Map(pipettes.map(({ vessel, use }) => [use.key, { id: vessel.id, tag: vessel.tag }]));
  const uses = pipettes.map(({ use }) => use);
  return twoDeliveries(uses, wanted.volumeMl)
    .slice(0, MOST_PAIRS)
    .flatMap(({ first, second, uncertaintyMl }) => {
      const [one, other] = [named.get(first.key), named.get(second.key)];
      const adequate = isWithinUncertainty(uncertaintyMl, wanted);
      return one && other ? [{ first: one, second: other, uncertaintyMl, adequate }] : [];
    });
};

const wantedOf = (query: ChoiceQuery): Wanted => ({
  job: query.job,
  volumeMl: Number(query.volumeMl),
  accuracyPercent: query.accuracyPercent === undefined ? null : Number(query.accuracyPercent),
  standardised: query.standardised === 'true',
});

export const chooseVessel = async (
  db: Reading,
  query: ChoiceQuery,
  by: { actor: string; now: Date },
): Promise<ChoiceReply> => {
  const wanted = wantedOf(query);
  const { kinds, basis } = needsOf(wanted.job);
  const sizes = { fromMl: wanted.volumeMl, toMl: LONGEST_SCALE * wanted.volumeMl };
  const found = await findCandidates(db, { kinds, basis, ...sizes, limit: MOST_VESSELS + 1 });
  const all: Known[] = [];
  for (const one of found.slice(0, MOST_VESSELS)) {
    const vessel = await known(db, one, { ...by, volumeMl: query.volumeMl });
    const isOther =
      vessel && isOneMark(vessel.vessel.kind) && Number(vessel.vessel.nominalVolumeMl) !== wanted.volumeMl;
    if (vessel && !isOther) all.push(vessel);
  }
  const byId = new Map(all.map((one) => [one.vessel.id, one]));
  const vessels = rankCandidates(all.map(candidateOf), wanted).flatMap((judged) => {
    const vessel = byId.get(judged.id);
    return vessel ? [onWire(vessel, judged)] : [];
  });
  const needsPair = wanted.job === 'portion' && !vessels.some(({ adequate }) => adequate);
  const { accuracyPercent, volumeMl } = wanted;
  return {
    wantedMl: accuracyPercent === null ? null : (volumeMl * accuracyPercent) / 100,
    kinds: kindsWith(wanted, vessels),
    vessels,
    more: found.length > MOST_VESSELS,
    pairs: needsPair ? await pairsFor(db, wanted, by) : [],
  };
};
