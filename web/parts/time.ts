import { text } from '../messages/en.ts';

const two = (value: number): string => String(value).padStart(2, '0');

/** Day and minute in this browser's zone, ISO order: 2026-11-25 14:05. */
export const moment = (iso: string): string => {
  const at = new Date(iso);
  return `${dayOf(at)} ${two(at.getHours())}:${two(at.getMinutes())}`;
};

export const dayOf = (at: Date): string => `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;

export const minutesSince = (iso: string, nowMs: number): number =>
  Math.max(0, Math.floor((nowMs - Date.parse(iso)) / 60_000));

/** How long ago, in the coarsest unit that still tells something. */
export const age = (iso: string, nowMs: number): string => {
  const minutes = minutesSince(iso, nowMs);
  if (minutes < 1) return text.time.now;
  if (minutes < 60) return text.time.minutes(minutes);
  if (minutes < 48 * 60) return text.time.hours(Math.floor(minutes / 60));
  return text.time.days(Math.floor(minutes / (24 * 60)));
};
