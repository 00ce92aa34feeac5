/** Vessels by the tags typed into a form. */
import { useQueries, useQuery } from '@tanstack/react-query';
import type { VesselListItem } from '../../../server/glassware/contract.ts';
import { isGraduated } from '../../../server/metrology/points-proposed.ts';
import type { Basis, VesselKind } from '../../../server/metrology/record.ts';
import { text } from '../../messages/en.ts';
import { solutionFormText as words } from '../../messages/en-solutions.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { useSettled } from '../../parts/use-settled.ts';
import { fetchVessels, keys, vesselByTag } from '../../queries.ts';
import type { FieldReader } from './reading.ts';

const PAUSE_MS = 250;

/** A vessel as typed: its tag, and the mark where it has more than one. */
export interface VesselDraft {
  tag: string;
  pointMl: string;
}
export const NO_VESSEL: VesselDraft = { tag: '', pointMl: '' };

/** By tag in small letters; null where no vessel bears it, missing while it is looked up. */
export type Tagged = ReadonlyMap<string, VesselListItem | null>;

const small = (tag: string): string => tag.trim().toLowerCase();

export function useTagged(tags: readonly string[]): Tagged {
  const settled = useSettled([...new Set(tags.map(small))].filter(Boolean).join('\n'), PAUSE_MS);
  const wanted = settled === '' ? [] : settled.split('\n');
  return useQueries({
    queries: wanted.map((tag) => ({
      queryKey: [...keys.vessels, 'by-tag', tag],
      queryFn: () => vesselByTag(tag),
    })),
    combine: (found) =>
      new Map(found.flatMap(({ data }, index) => (data === undefined ? [] : [[wanted[index] ?? '', data]]))),
  });
}

export const vesselOf = (tagged: Tagged, draft: VesselDraft): VesselListItem | null | undefined =>
  tagged.get(small(draft.tag));

/** Ware that is used at a mark one names, such as a burette or a cylinder. */
export const asksForMark = ({ kind, marks }: Pick<VesselListItem, 'kind' | 'marks'>): boolean =>
  isGraduated(kind) || kind === 'piston-pipette' || (marks?.length ?? 0) > 1;

/** The vessel as the body names it. `field` is its place there. */
export function readVessel(reader: FieldReader, field: string, draft: VesselDraft, tagged: Tagged) {
  const id = readVesselId(reader, `${field}/vesselId`, draft, tagged);
  const vessel = vesselOf(tagged, draft);
  if (!vessel || !asksForMark(vessel)) return { vesselId: id };
  return { vesselId: id, pointMl: reader.number(`${field}/pointMl`, draft.pointMl, 'mL') };
}

export function readVesselId(reader: FieldReader, field: string, draft: VesselDraft, tagged: Tagged): string {
  if (draft.tag.trim() === '') return reader.refuse(field, words.vesselMissing);
  const vessel = vesselOf(tagged, draft);
  if (vessel === undefined) return reader.wait(field, words.vesselPending);
  return vessel === null ? reader.refuse(field, words.vesselUnknown(draft.tag.trim())) : vessel.id;
}

export const vesselWords = (vessel: VesselListItem): string =>
  [
    vesselText.what(vessel.nominalVolumeMl, text.words.vesselKinds[vessel.kind]),
    text.words.basesShort[vessel.basis],
    vessel.latest ? words.vesselMeasured(vessel.latest.performedOn) : words.vesselNotMeasured,
  ].join(' · ');

const NO_MEASURE: readonly VesselKind[] = ['beaker', 'conical-flask'];

/** Vessels to offer while a tag is typed: in use, and of the basis that the work wants. */
export function useOffered(typed: string, basis: Basis, kind: VesselKind, isWanted: boolean): VesselListItem[] {
  const search = useSettled(typed.trim(), PAUSE_MS);
  const { data } = useQuery({
    queryKey: [...keys.vessels, 'offered', search, search === '' ? kind : ''],
    queryFn: ({ signal }) => fetchVessels(search === '' ? { kind } : { search }, signal),
    enabled: isWanted,
    placeholderData: (before) => before,
  });
  return (data?.items ?? []).filter((one) => one.inUse && one.basis === basis && !NO_MEASURE.includes(one.kind));
}
