import { significant } from '../display.ts';
import type { Basis, VesselKind } from '../record.ts';
import { summarise } from '../statistics.ts';
import type { ClassGroup, ClassLimit, ClassRow } from './data.ts';
import { classFinding } from './findings.ts';
import type { ClassFinding } from './findings.ts';
import { oneWay } from './one-way.ts';
import type { OneWay } from './one-way.ts';
import { suspectOf, withoutTrial } from './suspect.ts';
import type { Suspect } from './suspect.ts';

/** Below this many groups the spread between groups is known to no better than a third (JCGM 100, table E.1). */
const FEW_GROUPS = 5;
const DIFFER_P = 0.05;
/** Share of the tolerance within which two numbers count as equal. */
const SLACK = 1e-9;

/** Trueness and precision of a row as numbers; null where the trials do not give one. */
export interface Figures {
  n: number;
  /** Groups with at least one trial. */
  groups: number;
  meanMl: number | null;
  /** Mean − nominal volume. */
  biasMl: number | null;
  /** s, all trials together, n − 1. */
  sdMl: number | null;
  /** s_r, repeatability within a group. */
  repeatabilitySdMl: number | null;
  /** s_L, between groups; 0 where it comes out negative. */
  betweenSdMl: number | null;
  /** s_R, within-room precision. */
  withinRoomSdMl: number | null;
  meanUncertaintyMl: number | null;
}

/** The same in per cent of the nominal volume, so that a beaker and a flask fit on one scale. */
export interface RelativeFigures {
  biasPercent: number | null;
  sdPercent: number | null;
  repeatabilityPercent: number | null;
  betweenPercent: number | null;
  withinRoomPercent: number | null;
  meanUncertaintyPercent: number | null;
}

/**
 * A limit in its two meanings, kept apart: what it allows the vessel, and where the single fillings of the class lie. A
 * filling outside tells of the hands too; it does not make the vessel bad.
 */
export interface LimitFigures extends ClassLimit {
  vessel: { lowestMl: number; highestMl: number };
  /** `share` is within ÷ n; null without trials. */
  fillings: { n: number; within: number; share: number | null };
}

export interface GroupFigures {
  key: string;
  n: number;
  meanMl: number | null;
  sdMl: number | null;
}

export interface RowFigures extends Figures {
  key: string;
  kind: VesselKind;
  basis: Basis;
  nominalMl: number;
  smallestMl: number | null;
  largestMl: number | null;
  relative: RelativeFigures;
  /** Null without trials. */
  oneWay: OneWay | null;
  byGroup: GroupFigures[];
  limits: LimitFigures[];
  /** The trial that is asked about, with the figures as they would be without it. */
  suspect: (Suspect & { without: Figures }) | null;
  findings: ClassFinding[];
}

const NOTHING: Figures = {
  n: 0,
  groups: 0,
  meanMl: null,
  biasMl: null,
  sdMl: null,
  repeatabilitySdMl: null,
  betweenSdMl: null,
  withinRoomSdMl: null,
  meanUncertaintyMl: null,
};

function figuresOf(groups: readonly ClassGroup[], nominalMl: number): { figures: Figures; analysis: OneWay | null } {
  const all = groups.flatMap((group) => group.trialsMl);
  if (all.length === 0) return { figures: NOTHING, analysis: null };
  const analysis = oneWay(groups.map((group) => group.trialsMl));
  const { n, groups: count, meanMl, repeatabilitySdMl, between, withinRoomSdMl, meanUncertaintyMl } = analysis;
  const figures = {
    n,
    groups: count,
    meanMl,
    biasMl: meanMl - nominalMl,
    sdMl: summarise(all).sd,
    repeatabilitySdMl,
    betweenSdMl: between?.sdMl ?? null,
    withinRoomSdMl,
    meanUncertaintyMl,
  };
  return { figures, analysis };
}

function relativeOf(figures: Figures, nominalMl: number): RelativeFigures {
  const percent = (value: number | null) => (value === null ? null : (100 * value) / nominalMl);
  return {
    biasPercent: percent(figures.biasMl),
    sdPercent: percent(figures.sdMl),
    repeatabilityPercent: percent(figures.repeatabilitySdMl),
    betweenPercent: percent(figures.betweenSdMl),
    withinRoomPercent: percent(figures.withinRoomSdMl),
    meanUncertaintyPercent: percent(figures.meanUncertaintyMl),
  };
}

function limitFigures(row: ClassRow, all: readonly number[]): LimitFigures[] {
  const { nominalMl, toleranceMl, markedPercent, limits = [] } = row;
  const own: ClassLimit[] = [...limits];
  if (toleranceMl !== null) own.push({ name: 'stated', source: 'stated for this ware', toleranceMl });
  if (markedPercent != null) {
    own.push({ name: 'marked', source: 'marked on the vessel', toleranceMl: (nominalMl * markedPercent) / 100 });
  }
  return own.map((limit) => {
    const reach = limit.toleranceMl * (1 + SLACK);
    const within = all.filter((value) => Math.abs(value - nominalMl) <= reach).length;
    return {
      ...limit,
      vessel: { lowestMl: nominalMl - limit.toleranceMl, highestMl: nominalMl + limit.toleranceMl },
      fillings: { n: all.length, within, share: all.length === 0 ? null : within / all.length },
    };
  });
}

function roughly(valueMl: number): string {
  return `${significant(valueMl, 2)} mL`;
}

function findingsOf(figures: Figures, analysis: OneWay | null, suspect: Suspect | null): ClassFinding[] {
  if (analysis === null) return [classFinding('no-trials', 'Nobody has weighed in this row yet.')];
  const { n, groups, dfWithin, between, repeatabilitySdMl, p } = analysis;
  const findings: ClassFinding[] = [];
  if (n < 2) findings.push(classFinding('needs-2-trials', 'One trial shows no spread; two are needed.'));
  if (groups < 2) findings.push(classFinding('needs-2-groups', `All ${n} trials are of one group.`));
  else if (dfWithin === 0) {
    findings.push(classFinding('no-repeats', `Each of the ${groups} groups weighed once.`));
  } else if (groups < FEW_GROUPS) {
    const off = Math.round(100 / Math.sqrt(2 * (groups - 1)));
    findings.push(
      classFinding('few-groups', `From ${groups} groups the spread between them is known to about ${off} %.`),
    );
  }
  if (between?.negative === true && repeatabilitySdMl !== null) {
    const detail = `The groups lie closer together than their own spread of ${roughly(repeatabilitySdMl)} explains; s_L² comes out negative and counts as 0.`;
    findings.push(classFinding('negative-between', detail));
  }
  if (p !== null && p < DIFFER_P) {
    const chance = p < 0.001 ? 'less than 0.1 %' : `${significant(100 * p, 2)} %`;
    const detail = `Means this far apart would come by chance in ${chance} of classes whose groups do not differ.`;
    findings.push(classFinding('groups-differ', detail));
  }
  if (suspect !== null) {
    const off = Math.abs(suspect.valueMl - (figures.meanMl ?? 0));
    const detail = `Trial ${suspect.number} of group ${suspect.group} lies ${roughly(off)} from the mean. Look for a cause: the number alone leaves nothing out.`;
    findings.push(classFinding('suspected-outlier', detail));
  }
  return findings;
}

/**
 * Everything a row says: mean, bias, spreads, u(mean), the same relative, each group, each limit, the suspicious trial
 * with the figures without it, and what is to be said about all that. No trial is left out of the figures.
 * @throws RangeError when the nominal volume is not above 0 or a trial is not finite
 * @source iso-5725-1-2023, trueness as bias, precision as repeatability and intermediate precision
 */
export function rowFigures(row: ClassRow): RowFigures {
  const { key, kind, basis, nominalMl, groups } = row;
  if (!(nominalMl > 0 && Number.isFinite(nominalMl))) throw new RangeError('rowFigures needs a nominal volume above 0');
  const { figures, analysis } = figuresOf(groups, nominalMl);
  const all = groups.flatMap((group) => group.trialsMl);
  const summary = all.length === 0 ? null : summarise(all);
  const suspect = suspectOf(groups, row.lastDigitMl);
  const without = suspect === null ? null : figuresOf(withoutTrial(groups, suspect), nominalMl).figures;
  return {
    key,
    kind,
    basis,
    nominalMl,
    ...figures,
    smallestMl: summary?.smallest ?? null,
    largestMl: summary?.largest ?? null,
    relative: relativeOf(figures, nominalMl),
    oneWay: analysis,
    byGroup: groups.map((group) => {
      const own = group.trialsMl.length === 0 ? null : summarise(group.trialsMl);
      return { key: group.key, n: group.trialsMl.length, meanMl: own?.mean ?? null, sdMl: own?.sd ?? null };
    }),
    limits: limitFigures(row, all),
    suspect: suspect === null || without === null ? null : { ...suspect, without },
    findings: findingsOf(figures, analysis, suspect),
  };
}

/**
 * The figures of all rows, in their order.
 * @source iso-5725-1-2023, trueness as bias, precision as repeatability and intermediate precision
 */
export function classFigures(data: { rows: readonly ClassRow[] }): RowFigures[] {
  return data.rows.map(rowFigures);
}
