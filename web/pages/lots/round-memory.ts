/** What a round remembers in this browser beside its readings: the water, and how long ago the zero was looked at. */
import type { RoundWater } from './grid-trial.ts';

export interface RoundMemory {
  water: RoundWater | null;
  /** How often the balance went on to another vessel in this round here, and how often since its zero was looked at. */
  weighed: number;
  sinceZero: number;
}

const NOTHING: RoundMemory = { water: null, weighed: 0, sinceZero: 0 };
const shelfOf = (lotId: string, round: number): string => `tarebook.round.${lotId}.${round}`;

export const recall = (lotId: string, round: number): RoundMemory => {
  try {
    return { ...NOTHING, ...(JSON.parse(localStorage.getItem(shelfOf(lotId, round)) ?? '{}') as Partial<RoundMemory>) };
  } catch {
    return NOTHING;
  }
};

export const remember = (lotId: string, round: number, memory: RoundMemory): void => {
  try {
    localStorage.setItem(shelfOf(lotId, round), JSON.stringify(memory));
  } catch {
    // A full or closed shelf: after a reload the water is asked for again.
  }
};
