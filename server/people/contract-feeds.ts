/** Calendars of due dates that a program of somebody's reads by an address of its own. */
import { z } from 'zod';
import { id, requiredText } from '../wire.ts';

export const feedBody = z.strictObject({ label: requiredText('The name of the calendar', 80) });
export const feed = z.object({
  id,
  label: z.string(),
  /** Whose it is; it ends with their access. */
  person: z.string(),
  recordedAt: z.string(),
  endedAt: z.string().nullable(),
});
export type FeedOnWire = z.infer<typeof feed>;
export const feedList = z.object({ items: z.array(feed) });
/** The address holds the token and is shown this once. */
export const feedMade = z.object({ id, label: z.string(), path: z.string() });
export type FeedMade = z.infer<typeof feedMade>;
