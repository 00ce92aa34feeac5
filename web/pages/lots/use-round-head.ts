import { useRef, useState } from 'react';
import type { Round } from '../../../server/lots/contract-round.ts';
import { readNumber } from '../../parts/read-number.ts';
import { gridText } from '../../messages/en-lots.ts';
import { withTrueMinus } from '../../parts/rounding.ts';
import type { Place } from './grid-order.ts';
import { isStale } from './grid-trial.ts';
import { knownOf, together } from './round-known.ts';
import { recall, remember, type RoundMemory } from './round-memory.ts';
import { useDeeds } from '../../use-deeds.ts';
import { roundPath } from './queries.ts';

/** Changes of vessel. Common practice, no source: drift of the zero shows within ten weighings. */
export const VESSELS_PER_ZERO_CHECK = 10;

/** A field of the round while it is typed, and why it cannot be kept. */
function useTyped(first: string) {
  const [typed, setTyped] = useState(first);
  const [problem, setProblem] = useState<string | null>(null);
  const type = (text: string): void => {
    setProblem(null);
    setTyped(text);
  };
  return { typed, problem, type, setProblem };
}

/** What the round remembers in this browser, and what another one left with the server; changed at once and drawn a moment later. */
function useMemory(round: Round) {
  const { number } = round;
  const lotId = round.lot.id;
  const [first] = useState(() => together(recall(lotId, number), knownOf(round)));
  const memory = useRef<RoundMemory>(first);
  const [, redraw] = useState(0);
  const change = (changes: Partial<RoundMemory>): void => {
    memory.current = { ...memory.current, ...changes };
    remember(lotId, number, memory.current);
    redraw((count) => count + 1);
  };
  return { memory, change };
}

/** Fields of the round as a whole: its water, and the zero of the balance. Where the cursor was going is remembered. */
export function useRoundHead(round: Round) {
  const { deeds } = useDeeds();
  const { memory, change } = useMemory(round);
  const target = useRef<Place | null>(null);
  const water = useTyped(memory.current.water?.temperatureC ?? '');
  const zero = useTyped('');
  const takeTarget = (): Place | null => {
    const place = target.current;
    target.current = null;
    return place;
  };
  /** @returns where to go on, or undefined where the typed temperature cannot be kept */
  const enterWater = (): Place | null | undefined => {
    const read = readNumber(water.typed, '°C');
    if (!read.ok) return void water.setProblem(read.problem);
    if (Number(read.value) < 0 || Number(read.value) > 40) return void water.setProblem(gridText.waterRange);
    water.type(read.value);
    change({ water: { temperatureC: read.value, readAtMs: Date.now(), readFor: null } });
    return takeTarget();
  };
  /** An empty field leaves the look for later. @returns as `enterWater` */
  const enterZero = (): Place | null | undefined => {
    if (zero.typed.trim() !== '') {
      const read = readNumber(zero.typed, 'g');
      if (!read.ok) return void zero.setProblem(read.problem);
      const body = { readingG: read.value, afterVessels: memory.current.weighed };
      const path = `${roundPath(round.lot.id, round.number)}/zero-checks`;
      deeds.add(path, body, gridText.zeroRead(round.lot.name, withTrueMinus(read.value)));
    }
    zero.type('');
    change({ sinceZero: 0 });
    return takeTarget();
  };
  return {
    get water() {
      return memory.current.water;
    },
    get sinceZero() {
      return memory.current.sinceZero;
    },
    waterField: water,
    zeroField: zero,
    enterWater,
    enterZero,
    countVessel: () => change({ weighed: memory.current.weighed + 1, sinceZero: memory.current.sinceZero + 1 }),
    useWaterFor: (entryId: string): void => {
      const read = memory.current.water;
      if (read) change({ water: { ...read, readFor: entryId } });
    },
    /** The cell waits for a field of the round. */
    wait: (place: Place): void => {
      target.current = place;
    },
    /** A field of the round that is due before this cell; null when the way is clear, as for water that is the cell's own. */
    detour: (next: Place | null, isOwnWater = false): string | null => {
      const isZeroDue = memory.current.sinceZero >= VESSELS_PER_ZERO_CHECK;
      const isWaterDue = next?.field === 'filledG' && !isOwnWater && isStale(memory.current.water, Date.now());
      const due = isZeroDue ? 'round-zero' : isWaterDue ? 'round-water' : null;
      if (due !== null) target.current = next;
      return due;
    },
  };
}
export type RoundHead = ReturnType<typeof useRoundHead>;
