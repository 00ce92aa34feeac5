/** What a calibration begins with: sensible defaults, and typed text into a body. */
import type { Calibration, CalibrationBody, ConditionsBody } from '../../../server/calibrations/contract.ts';
import type { Instrument } from '../../../server/instruments/contract.ts';
import type { Laboratory } from '../../../server/laboratory/contract.ts';
import type { WayOfWorking } from '../../../server/lots/contract.ts';
import { proposePoints } from '../../../server/metrology/points-proposed.ts';
import type {
  Basis,
  CoverageProbability,
  DecisionRule,
  MeniscusRule,
  VesselKind,
  WaterGrade,
} from '../../../server/metrology/record.ts';
import { airReadAt, conditionsInForce } from '../bench/air-in-force.ts';
import { readNumber } from '../../parts/read-number.ts';
import { dayOf } from '../../parts/time.ts';

/** Conditions as typed; quantities empty where they are not known. */
export interface ConditionDraft {
  airTemperatureC: string;
  airPressureHpa: string;
  relativeHumidityPercent: string;
  airTemperatureHalfWidthC: string;
  airPressureHalfWidthHpa: string;
  relativeHumidityHalfWidthPercent: string;
  waterGrade: WaterGrade | '';
  conductivityUsPerCm: string;
  evaporationMgPerMin: string;
  acclimatisedH: string;
  dissolvedAir: boolean;
  adjustedToday: boolean;
  dried: boolean;
  cleaned: boolean;
  inspected: boolean;
  meniscusRule: MeniscusRule;
}

export type Role = 'balanceId' | 'thermometerId' | 'barometerId' | 'hygrometerId' | 'airThermometerId';
export const ROLES: readonly { role: Role; kind: Instrument['kind'] }[] = [
  { role: 'balanceId', kind: 'balance' },
  { role: 'thermometerId', kind: 'thermometer' },
  { role: 'airThermometerId', kind: 'thermometer' },
  { role: 'barometerId', kind: 'barometer' },
  { role: 'hygrometerId', kind: 'hygrometer' },
];

export interface StartDraft {
  points: string[];
  morePoints: string;
  planned: '3' | '5' | '10' | 'other';
  plannedOther: string;
  performedOn: string;
  basis: Basis;
  decisionRule: DecisionRule;
  coverageProbability: CoverageProbability;
  repeatability: 'own' | 'pooled';
  instruments: Record<Role, string>;
  conditions: ConditionDraft;
  note: string;
  /** Of a round; absent where nobody chose one yet. */
  wayOfWorking?: WayOfWorking;
  /** Typed from a recording sheet, with who weighed as it stands there. */
  isFromSheet: boolean;
  weighedBy: string;
  /** Why it is begun although the set-up cannot decide. */
  goOnReason: string;
}

type Defaults = Pick<
  Laboratory['defaults'],
  'decisionRule' | 'coverageProbability' | 'plannedTrials' | 'repeatability'
>;

interface VesselLike {
  kind: VesselKind;
  nominalVolumeMl: string;
  basis: Basis;
  marks: readonly string[] | null;
}

const MINUTE_MS = 60_000;
/** Air changes: readings older than this are not carried over. */
const AIR_KEEPS_MS = 60 * MINUTE_MS;

const plannedAs = (count: number): Pick<StartDraft, 'planned' | 'plannedOther'> =>
  count === 3 || count === 5 || count === 10
    ? { planned: `${count}`, plannedOther: '' }
    : { planned: 'other', plannedOther: String(count) };

/** What holds until the laboratory's own settings are known. */
export const USUAL_DEFAULTS: Defaults = {
  decisionRule: 'guarded',
  coverageProbability: '0.9545',
  plannedTrials: 10,
  repeatability: 'own',
};

export function startDraft(
  vessel: VesselLike,
  latest: Calibration | null,
  instruments: readonly Instrument[],
  nowMs: number,
  defaults: Defaults,
): StartDraft {
  const known = latest ? conditionsInForce(latest) : {};
  const carriesAir = latest !== null && nowMs - Date.parse(airReadAt(latest)) < AIR_KEEPS_MS;
  return {
    points: proposePoints(vessel).proposed,
    morePoints: '',
    ...plannedAs(defaults.plannedTrials),
    performedOn: '',
    basis: vessel.basis,
    decisionRule: defaults.decisionRule,
    coverageProbability: defaults.coverageProbability,
    repeatability: defaults.repeatability,
    instruments: chosenInstruments(latest, instruments),
    conditions: {
      airTemperatureC: carriesAir ? (known.airTemperatureC ?? '') : '',
      airPressureHpa: carriesAir ? (known.airPressureHpa ?? '') : '',
      relativeHumidityPercent: carriesAir ? (known.relativeHumidityPercent ?? '') : '',
      airTemperatureHalfWidthC: '',
      airPressureHalfWidthHpa: '',
      relativeHumidityHalfWidthPercent: '',
      waterGrade: known.waterGrade ?? '',
      conductivityUsPerCm: known.conductivityUsPerCm ?? '',
      evaporationMgPerMin: '',
      acclimatisedH: '',
      dissolvedAir: known.dissolvedAir ?? false,
      // Asked once a day: what was said of a calibration of another day says nothing of this one.
      adjustedToday: latest?.performedOn === dayOf(new Date(nowMs)) && (known.adjustedToday ?? false),
      dried: false,
      cleaned: false,
      inspected: false,
      meniscusRule: known.meniscusRule ?? 'upper-edge',
    },
    note: '',
    isFromSheet: false,
    weighedBy: '',
    goOnReason: '',
  };
}

/** As last time; else the only one of its kind. The air has a thermometer of its own or none. */
function chosenInstruments(latest: Calibration | null, instruments: readonly Instrument[]): Record<Role, string> {
  const inUse = instruments.filter((instrument) => instrument.inUse);
  const chosen = (role: Role, kind: Instrument['kind']): string => {
    const last = latest?.instruments[role];
    if (last !== undefined && inUse.some((instrument) => instrument.id === last)) return last;
    const ofKind = inUse.filter((instrument) => instrument.kind === kind);
    return latest === null && ofKind.length === 1 && role !== 'airThermometerId' ? (ofKind[0]?.id ?? '') : '';
  };
  return Object.fromEntries(ROLES.map(({ role, kind }) => [role, chosen(role, kind)])) as Record<Role, string>;
}

type Problems = Partial<Record<string, string>>;

const QUANTITIES = {
  airTemperatureC: '°C',
  airPressureHpa: 'hPa',
  relativeHumidityPercent: '%',
  airTemperatureHalfWidthC: '°C',
  airPressureHalfWidthHpa: 'hPa',
  relativeHumidityHalfWidthPercent: '%',
  evaporationMgPerMin: 'mg/min',
  acclimatisedH: 'h',
} as const;

/** Only what is known goes into the body. `prefix` is the place of the conditions in the whole body. */
export function readConditions(draft: ConditionDraft, problems: Problems, prefix: string): ConditionsBody {
  const body: ConditionsBody = { meniscusRule: draft.meniscusRule };
  for (const [field, unit] of Object.entries(QUANTITIES) as [keyof typeof QUANTITIES, string][]) {
    if (draft[field].trim() === '') continue;
    const read = readNumber(draft[field], unit);
    if (read.ok) body[field] = read.value;
    else problems[prefix + field] = read.problem;
  }
  if (draft.waterGrade !== '') body.waterGrade = draft.waterGrade;
  if (draft.waterGrade === 'tap' && draft.conductivityUsPerCm.trim() !== '') {
    const read = readNumber(draft.conductivityUsPerCm);
    if (read.ok) body.conductivityUsPerCm = read.value;
    else problems[`${prefix}conductivityUsPerCm`] = read.problem;
  }
  for (const field of ['dissolvedAir', 'adjustedToday', 'dried', 'cleaned', 'inspected'] as const)
    if (draft[field]) body[field] = true;
  return body;
}

export type StartBody = Pick<
  CalibrationBody,
  'points' | 'plannedTrials' | 'decisionRule' | 'conditions' | 'instruments'
> &
  Partial<CalibrationBody>;

export function readStart(
  draft: StartDraft,
  vessel: VesselLike,
  words: { noPoints: string; plannedWhole: string; dayMissing: string; weighedBy: (name: string) => string },
): { body: StartBody; problems: Problems } {
  const problems: Problems = {};
  const points = [...draft.points, ...readPoints(draft.morePoints, problems)];
  if (points.length === 0 && problems.morePoints === undefined) problems.points = words.noPoints;
  const plannedTrials = Number(draft.planned === 'other' ? draft.plannedOther : draft.planned);
  if (!Number.isInteger(plannedTrials) || plannedTrials < 1 || plannedTrials > 100)
    problems.plannedTrials = words.plannedWhole;
  if (draft.isFromSheet && draft.performedOn.trim() === '') problems.performedOn = words.dayMissing;
  const weighedBy = draft.isFromSheet ? draft.weighedBy.trim() : '';
  const note = [weighedBy && words.weighedBy(weighedBy), draft.note.trim()].filter(Boolean).join('\n');
  const instruments = Object.fromEntries(Object.entries(draft.instruments).filter(([, id]) => id !== ''));
  return {
    problems,
    body: {
      points,
      plannedTrials,
      decisionRule: draft.decisionRule,
      coverageProbability: draft.coverageProbability,
      repeatability: { use: draft.repeatability },
      conditions: readConditions(draft.conditions, problems, 'conditions/'),
      instruments,
      ...(draft.basis === vessel.basis ? {} : { basis: draft.basis }),
      ...(draft.performedOn.trim() === '' ? {} : { performedOn: draft.performedOn.trim() }),
      ...(draft.isFromSheet ? { origin: 'sheet' as const } : {}),
      ...(note === '' ? {} : { note }),
    },
  };
}

function readPoints(typed: string, problems: Problems): string[] {
  return typed
    .trim()
    .split(/[\s;]+/)
    .filter(Boolean)
    .flatMap((one) => {
      const read = readNumber(one, 'mL');
      if (read.ok) return [read.value];
      problems.morePoints ??= read.problem;
      return [];
    });
}
