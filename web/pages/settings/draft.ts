/** The settings as they stand in the form, and how they become a body. */
import type { Laboratory, LaboratoryBody } from '../../../server/laboratory/contract.ts';
import type { CoverageProbability, DecisionRule } from '../../../server/metrology/record.ts';
import { text } from '../../messages/en.ts';
import { settingsText } from '../../messages/en-settings.ts';
import { readNumber } from '../../parts/read-number.ts';
import type { VersionsRow } from '../../parts/versions.tsx';

export interface SettingsDraft {
  name: string;
  address: string;
  countryCode: string;
  altitudeM: string;
  decisionRule: DecisionRule;
  coverageProbability: CoverageProbability;
  plannedTrials: string;
  repeatability: 'own' | 'pooled';
  overdueBlocks: boolean;
  /** Empty: no vessel is ever due. */
  intervalMonths: string;
  secondPersonChecks: boolean;
  /** One a line. */
  hostNames: string;
}

export const draftOf = ({
  name,
  address,
  countryCode,
  altitudeM,
  defaults,
  intervalMonths,
  secondPersonChecks,
  hostNames,
}: Laboratory): SettingsDraft => ({
  name: name ?? '',
  address: address ?? '',
  countryCode: countryCode ?? '',
  altitudeM: altitudeM ?? '',
  ...defaults,
  plannedTrials: String(defaults.plannedTrials),
  intervalMonths: intervalMonths === null ? '' : String(intervalMonths),
  secondPersonChecks,
  hostNames: hostNames.join('\n'),
});

const LOWEST_M = -430;
const HIGHEST_M = 5000;
const MOST_TRIALS = 1000;
const MOST_MONTHS = 600;

/** The height as decimal text, null where none is given, or what is wrong with it. */
export function readAltitude(typed: string): { altitudeM: string | null; problem?: string } {
  if (typed.trim() === '') return { altitudeM: null };
  const read = readNumber(typed, 'm');
  if (!read.ok) return { altitudeM: null, problem: read.problem };
  const isInside = Number(read.value) >= LOWEST_M && Number(read.value) <= HIGHEST_M;
  return isInside ? { altitudeM: read.value } : { altitudeM: null, problem: settingsText.place.range };
}

function readTrials(typed: string): { plannedTrials: number; problem?: string } {
  const plannedTrials = /^\s*\d{1,4}\s*$/.test(typed) ? Number(typed) : 0;
  return plannedTrials >= 1 && plannedTrials <= MOST_TRIALS
    ? { plannedTrials }
    : { plannedTrials, problem: settingsText.defaults.trialsRange };
}

function readInterval(typed: string): { intervalMonths: number | null; problem?: string } {
  if (typed.trim() === '') return { intervalMonths: null };
  const months = /^\s*\d{1,3}\s*$/.test(typed) ? Number(typed) : 0;
  return months >= 1 && months <= MOST_MONTHS
    ? { intervalMonths: months }
    : { intervalMonths: null, problem: settingsText.defaults.intervalRange };
}

const hostNamesIn = (typed: string): string[] =>
  typed
    .split(/[\s,;]+/)
    .map((name) => name.toLowerCase())
    .filter((name) => name !== '');

/** `problems` by the name of the field in the form. */
export function readDraft(draft: SettingsDraft): { body: LaboratoryBody; problems: Record<string, string> } {
  const altitude = readAltitude(draft.altitudeM);
  const trials = readTrials(draft.plannedTrials);
  const interval = readInterval(draft.intervalMonths);
  const { decisionRule, coverageProbability, repeatability, overdueBlocks } = draft;
  return {
    body: {
      name: draft.name.trim() || null,
      address: draft.address.trim() || null,
      countryCode: draft.countryCode.trim().toUpperCase() || null,
      altitudeM: altitude.altitudeM,
      intervalMonths: interval.intervalMonths,
      secondPersonChecks: draft.secondPersonChecks,
      hostNames: hostNamesIn(draft.hostNames),
      defaults: {
        decisionRule,
        coverageProbability,
        plannedTrials: trials.plannedTrials,
        repeatability,
        overdueBlocks,
      },
    },
    problems: {
      ...(altitude.problem ? { altitudeM: altitude.problem } : {}),
      ...(trials.problem ? { 'defaults/plannedTrials': trials.problem } : {}),
      ...(interval.problem ? { intervalMonths: interval.problem } : {}),
    },
  };
}

export const isSame = (one: SettingsDraft, other: SettingsDraft): boolean =>
  JSON.stringify(readDraft(one).body) === JSON.stringify(readDraft(other).body);

const FIELDS: readonly (keyof SettingsDraft)[] = [
  'name',
  'address',
  'countryCode',
  'altitudeM',
  'decisionRule',
  'coverageProbability',
  'plannedTrials',
  'repeatability',
  'overdueBlocks',
  'intervalMonths',
  'secondPersonChecks',
  'hostNames',
];

/** What I changed, on top of what was saved meanwhile. */
export function merge(before: SettingsDraft, mine: SettingsDraft, present: SettingsDraft): SettingsDraft {
  const changes = FIELDS.filter((field) => mine[field] !== before[field]).map((field) => [field, mine[field]]);
  return { ...present, ...(Object.fromEntries(changes) as Partial<SettingsDraft>) };
}

/** Fields in which the three differ, in words. */
export function versionsOf(before: SettingsDraft, mine: SettingsDraft, present: SettingsDraft): VersionsRow[] {
  const { laboratory, place, defaults, doors, checking } = settingsText;
  const rows: [string, (draft: SettingsDraft) => string][] = [
    [laboratory.name, (draft) => draft.name.trim()],
    [laboratory.address, (draft) => draft.address.trim()],
    [laboratory.country, (draft) => draft.countryCode.trim().toUpperCase()],
    [place.altitude, (draft) => draft.altitudeM.trim()],
    [defaults.rule, (draft) => text.words.decisionRules[draft.decisionRule]],
    [defaults.coverage, (draft) => defaults.coverageNames[draft.coverageProbability]],
    [defaults.trials, (draft) => draft.plannedTrials.trim()],
    [defaults.repeatability, (draft) => defaults.repeatabilityNames[draft.repeatability]],
    [defaults.interval, (draft) => draft.intervalMonths.trim()],
    [defaults.overdue, (draft) => (draft.overdueBlocks ? text.words.yes : text.words.no)],
    [checking.secondPerson, (draft) => (draft.secondPersonChecks ? text.words.yes : text.words.no)],
    [doors.hostNames, (draft) => hostNamesIn(draft.hostNames).join(', ')],
  ];
  return rows
    .map(([name, show]) => ({ name, before: show(before), mine: show(mine), present: show(present) }))
    .filter((row) => row.mine !== row.before || row.present !== row.before);
}
