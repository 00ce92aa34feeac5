/** A cell of the grid becomes a trial: with the one water temperature of the round, and a dry reading used again. */
import type { WayOfWorking } from '../../../server/lots/contract.ts';
import type { OutboxEntry, TypedTrial } from '../../outbox.ts';
import { BLANK_TRIAL } from '../bench/entry.ts';
import { dryReading, type GridRow } from './grid-rows.ts';

/** The water of the round as read last. */
export interface RoundWater {
  temperatureC: string;
  readAtMs: number;
  /** The trial it was read for; for all others it is carried over. Null until one used it. */
  readFor: string | null;
}

/** Common practice, no source: water in a room drifts slowly, and half an hour is seen. */
export const WATER_KEEPS_MS = 30 * 60_000;

export const isStale = (water: RoundWater | null, nowMs: number): boolean =>
  water === null || nowMs - water.readAtMs > WATER_KEEPS_MS;

/** Entry of an empty cell, under an id that stays while it is typed. */
export const blankEntry = (
  row: GridRow,
  { id, slot, pointMl, madeAt }: { id: string; slot: number; pointMl: string; madeAt: number },
): OutboxEntry => ({
  id,
  calibrationId: row.row.calibrationId,
  tag: row.row.vessel.tag,
  pointMl,
  madeAt,
  slot,
  state: 'typed',
  typed: BLANK_TRIAL,
  body: null,
  problem: null,
  savedNumber: null,
});

/** A later trial of a vessel whose dry reading is used again needs no empty reading of its own. */
export function withDryReading(way: WayOfWorking, row: GridRow, slot: number, typed: TypedTrial): TypedTrial {
  const dry = way === 'reuse-dry' && slot > 0 ? dryReading(row) : null;
  if (dry === null || typed.emptyG.trim() !== '') return typed;
  return { ...typed, emptyG: dry.emptyG, emptySource: 'reused', emptyOf: dry.number };
}

/** From a sheet each trial has the temperature that stands beside it; null while that is not typed. */
export const withOwnWater = (typed: TypedTrial): TypedTrial | null =>
  typed.waterTemperatureC.trim() === '' ? null : { ...typed, isCarried: false };

/** A temperature was typed for the one trial: its water is not that of the round. */
export const hasOwnWater = (typed: TypedTrial, water: RoundWater | null, entryId: string): boolean =>
  typed.waterTemperatureC.trim() !== '' && !typed.isCarried && water?.readFor !== entryId;

/**
 * A temperature typed for the one trial stays; else it is that of the round, carried unless it was read for this one.
 * Null while neither is known.
 */
export function withWater(typed: TypedTrial, water: RoundWater | null, entryId: string): TypedTrial | null {
  if (hasOwnWater(typed, water, entryId)) return typed;
  if (water === null) return null;
  const isCarried = water.readFor !== null && water.readFor !== entryId;
  return { ...typed, waterTemperatureC: water.temperatureC, isCarried };
}
