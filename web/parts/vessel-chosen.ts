import { text } from '../messages/en.ts';

/** Chosen where the vessel bears no tag, or nobody remembers. */
export const TAG_UNKNOWN = 'unknown';

export type TaggedVessels = readonly { id: string; tag: string }[];

/**
 * What is sent for a choice among the vessels that a row names.
 * @returns the id, nothing where it cannot be said, or a problem where nothing was chosen
 */
export const vesselIn = (vessels: TaggedVessels, chosen: string): { vesselId?: string; problem?: string } => {
  const [only, ...others] = vessels;
  if (only === undefined || chosen === TAG_UNKNOWN) return {};
  if (others.length === 0) return { vesselId: only.id };
  return vessels.some(({ id }) => id === chosen) ? { vesselId: chosen } : { problem: text.vesselChoice.missing };
};
