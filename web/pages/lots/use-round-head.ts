import { useRef, useState } from 'react';
import type { Round } from '../../../server/lots/contract-round.ts';
import { readNumber } from '../../parts/read-number.ts';
import { gridText } from '../../messages/en-lots.ts';
import type { Place } from './grid-order.ts';
import { isStale } from './grid-trial.ts';
import { recall, remember, type RoundMemory } from './round-memory.ts';
import { useDeeds } from './use-deeds.ts';
import { roundPath } from './queries.ts';

/** Common practice, no source: drift of the zero shows within ten weighings. */
export const VESSELS_PER_ZERO_CHECK = 10;

/** Fields of the round as a whole: its water, and the zero of the balance. Where the cursor was going is remembered. */
export function useRoundHead(round: Round) {
  const { deeds } = useDeeds();
  const memory = useRef<RoundMemory>(recall(round.lot.id, round.number));
  const target = useRef<Place | null>(null);
  const [, redraw] = useState(0);
  const [waterProblem, setWaterProblem] = useState<string | null>(null);
  const [zeroProblem, setZeroProblem] = useState<string | null>(null);
  const [waterTyped, setWaterTyped] = useState(() => memory.current.water?.temperatureC ?? '');
  const [zeroTyped, setZeroTyped] = useState('');
  const change = (changes: Partial<RoundMemory>): void => {
    memory.current = { ...memory.current, ...changes };
    remember(round.lot.id, round.number, memory.current);
    redraw((count) => count + 1);
  };
  const isZeroDue = (): boolean => memory.current.sinceZero >= VESSELS_PER_ZERO_CHECK;
  const isWaterDue = (next: Place | null): boolean =>
    next?.field === 'filledG' && isStale(memory.current.water, Date.now());
  const takeTarget = (): Place | null => {
    const place = target.current;
    target.current = null;
    return place;
  };
  return {
    get water() {
      return memory.current.water;
    },
    sinceZero: memory.current.sinceZero,
    waterTyped,
    waterProblem,
    zeroTyped,
    zeroProblem,
    typeWater: (typed: string) => {
      setWaterProblem(null);
      setWaterTyped(typed);
    },
    typeZero: (typed: string) => {
      setZeroProblem(null);
      setZeroTyped(typed);
    },
    countVessel: () => change({ weighed: memory.current.weighed + 1, sinceZero: memory.current.sinceZero + 1 }),
    useWaterFor: (entryId: string) => {
      const { water } = memory.current;
      if (water) change({ water: { ...water, readFor: entryId } });
    },
    /** The cell waits for a field of the round. */
    wait: (place: Place) => (target.current = place),
    /** A field of the round that is due before this cell; null when the way is clear. */
    detour: (next: Place | null): string | null => {
      const due = isZeroDue() ? 'round-zero' : isWaterDue(next) ? 'round-water' : null;
      if (due !== null) target.current = next;
      return due;
    },
    /** @returns where to go on, or undefined where the typed temperature cannot be kept */
    enterWater: (): Place | null | undefined => {
      const read = readNumber(waterTyped, '°C');
      if (!read.ok || Number(read.value) < 0 || Number(read.value) > 40) {
        setWaterProblem(read.ok ? gridText.waterRange : read.problem);
        return undefined;
      }
      setWaterTyped(read.value);
      change({ water: { temperatureC: read.value, readAtMs: Date.now(), readFor: null } });
      return takeTarget();
    },
    /** An empty field leaves the look for later. @returns as `enterWater` */
    enterZero: (): Place | null | undefined => {
      if (zeroTyped.trim() !== '') {
        const read = readNumber(zeroTyped, 'g');
        if (!read.ok) {
          setZeroProblem(read.problem);
          return undefined;
        }
        const body = { readingG: read.value, afterVessels: memory.current.weighed };
        deeds.add(`${roundPath(round.lot.id, round.number)}/zero-checks`, body);
      }
      setZeroTyped('');
      change({ sinceZero: 0 });
      return takeTarget();
    },
  };
}
export type RoundHead = ReturnType<typeof useRoundHead>;
