/** An instrument's checks and certificates over time, and what depended on it. */
import { withPools } from '../calibrations/store-pool.ts';
import { INSTRUMENT_ROLES, loadCalibrations } from '../calibrations/store.ts';
import { summaryOf } from '../calibrations/view-strip.ts';
import type { Reading } from '../db/logbook.ts';
import { allChecksOf, type StoredCheck, type StoredInstrument } from '../instruments/store.ts';
import { correctionAt, correctionTable } from '../metrology/corrections.ts';
import { numberOf, sameDecimal, subtractDecimals } from '../metrology/decimal.ts';
import { chartStretches, FEWEST_FOR_LIMITS, type ControlChart } from '../metrology/over-time/control-chart.ts';
import type { Verdict } from '../metrology/result.ts';
import type { CheckChart, Dependent, InstrumentOverTime } from './contract.ts';
import { validCertificatesOf, type ListedCalibration } from './store.ts';

const UNITS = { balance: 'g', thermometer: '°C', barometer: 'hPa', hygrometer: '%' } as const;

interface Adjusted {
  number: string | null;
  on: string;
}

/** Certificates after the first, by their day: one that came again with another day is the same put right. */
function certificateDays(revisions: readonly StoredInstrument[]): Adjusted[] {
  const named = new Map<string, Adjusted>();
  for (const { facts } of revisions) {
    const [number, on] = [facts.certificateNumber ?? null, facts.certificateOn ?? null];
    if (on !== null) named.set(number ?? on, { number, on });
  }
  return [...named.values()].sort((one, other) => (one.on < other.on ? -1 : one.on > other.on ? 1 : 0)).slice(1);
}

const limitsOf = ({ points: _points, ...lines }: ControlChart) => ({
  ...lines,
  isFirstGuess: lines.base < FEWEST_FOR_LIMITS,
});

function chartOf(checks: readonly StoredCheck[], certificates: readonly Adjusted[]): CheckChart[] {
  const [first] = checks;
  if (first === undefined || checks.length < 2) return [];
  const differences = checks.map((check) => numberOf(subtractDecimals(check.reading, check.referenceValue).text));
  const starts = new Map<number, Adjusted>();
  for (const certificate of certificates) {
    const from = checks.findIndex(({ performedOn }) => performedOn >= certificate.on);
    // one older than every check begins nothing
    if (from !== 0) starts.set(from === -1 ? checks.length : from, certificate);
  }
  const stretches = chartStretches(differences, [...starts.keys()]);
  const points = stretches.flatMap(({ chart, count }) => chart?.points ?? Array<undefined>(count).fill(undefined));
  return [
    {
      referenceValue: first.referenceValue,
      unit: first.unit,
      stretches: stretches.map(({ chart, ...place }) => ({
        ...place,
        certificate: starts.get(place.first) ?? null,
        limits: chart && limitsOf(chart),
      })),
      checks: checks.map(({ number, performedOn }, index) => {
        const { movingRange = null, outside = false, rangeOutside = false } = points[index] ?? {};
        const difference = differences[index] ?? Number.NaN;
        return { number, performedOn, difference, movingRange, outside, rangeOutside };
      }),
    },
  ];
}

/** One chart for each known value, that of the newest check first. */
function chartsOf(checks: readonly StoredCheck[], certificates: readonly Adjusted[]): CheckChart[] {
  const groups: StoredCheck[][] = [];
  for (const check of checks) {
    const group = groups.find(([one]) => one !== undefined && sameDecimal(one.referenceValue, check.referenceValue));
    if (group === undefined) groups.push([check]);
    else group.push(check);
  }
  return groups
    .sort((first, second) => (second.at(-1)?.number ?? 0) - (first.at(-1)?.number ?? 0))
    .flatMap((group) => chartOf(group, certificates));
}

const certificateName = ({ facts }: StoredInstrument): string =>
  `${facts.certificateNumber ?? ''} ${facts.certificateOn ?? ''}`.trim();

function expandedUncertaintyOf({ facts }: StoredInstrument): string | null {
  switch (facts.kind) {
    case 'balance':
      return facts.expandedUncertaintyG ?? null;
    case 'thermometer':
      return facts.expandedUncertaintyC ?? null;
    case 'barometer':
      return facts.expandedUncertaintyHpa ?? null;
    case 'hygrometer':
      return facts.expandedUncertaintyPercent ?? null;
  }
}

function driftOf(present: StoredInstrument, before: StoredInstrument | undefined) {
  const earlier = correctionTable(before?.facts.corrections);
  return (present.facts.corrections ?? []).map(({ at, correction }) => {
    const was = correctionAt(earlier, numberOf(at));
    const value = numberOf(correction);
    const known = was.known && !was.extrapolated;
    return {
      at: numberOf(at),
      correction: value,
      before: known ? was.value : null,
      change: known ? value - was.value : null,
    };
  });
}

/** The last revision of each certificate, newest first: a slip put right later is the certificate as it stands. */
function certificatesOf(revisions: readonly StoredInstrument[]): InstrumentOverTime['certificates'] {
  const kept = revisions.filter(
    (revision, index) =>
      certificateName(revision) !== '' &&
      revisions.findLastIndex((one) => certificateName(one) === certificateName(revision)) === index,
  );
  return kept
    .map((revision, index) => ({
      version: revision.version,
      number: revision.facts.certificateNumber ?? null,
      on: revision.facts.certificateOn ?? null,
      dueOn: revision.facts.dueOn ?? null,
      expandedUncertainty: expandedUncertaintyOf(revision),
      drift: driftOf(revision, kept[index - 1]),
    }))
    .reverse();
}

export const instrumentOverTimeOf = async (
  db: Reading,
  revisions: readonly StoredInstrument[],
  present: StoredInstrument,
): Promise<InstrumentOverTime> => ({
  instrumentId: present.id,
  unit: UNITS[present.facts.kind],
  charts: chartsOf(await allChecksOf(db, present.id), certificateDays(revisions)),
  certificates: certificatesOf(revisions),
});

/** Calibrations as what depended on an instrument, in the order they are given. */
export const dependentsOf = async (
  db: Reading,
  instrumentId: string,
  listed: readonly ListedCalibration[],
): Promise<Dependent[]> => {
  const ids = listed.map(({ id }) => id);
  const loaded = await withPools(db, await loadCalibrations(db, ids));
  const certificates = await validCertificatesOf(db, ids);
  return ids.flatMap((id): Dependent[] => {
    const stored = loaded.get(id);
    if (stored === undefined) return [];
    const roles = INSTRUMENT_ROLES.filter((role) => stored.instruments[role]?.id === instrumentId);
    const [first] = roles;
    return [
      {
        calibrationId: id,
        vesselId: stored.vessel.id,
        tag: stored.vessel.tag,
        kind: stored.vessel.kind,
        nominalVolumeMl: stored.vessel.nominalVolumeMl,
        performedOn: stored.record.performedOn,
        state: stored.state,
        verdict: summaryOf(stored).verdict as Verdict | null,
        roles: [...roles],
        instrumentVersion: (first && stored.instruments[first]?.version) ?? 1,
        certificates: certificates.get(id) ?? [],
      },
    ];
  });
};
