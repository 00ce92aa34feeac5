import { useEffect, useEffectEvent, useState } from 'react';
import { IDLE, isTimingKey, press, secondsText, type Timed } from './timing.ts';

const SHOWN_EVERY_MS = 100;

/** The running timing, moved on by its button or its key wherever the focus is. */
export function useTiming(waits: boolean, onTimed: (timed: Timed, isOver: boolean) => void) {
  const [timing, setTiming] = useState(IDLE);
  const [nowMs, setNowMs] = useState(0);
  const goOn = (atMs: number): void => {
    const { timing: next, timed } = press(timing, atMs, waits);
    setTiming(next);
    setNowMs(atMs);
    if (timing.phase !== 'idle') onTimed(timed, next.phase === 'idle');
  };
  const pressedByKey = useEffectEvent((atMs: number) => goOn(atMs));
  useEffect(() => {
    let lastKeyMs = Number.NEGATIVE_INFINITY;
    const keyDown = (event: KeyboardEvent): void => {
      const sinceLastMs = event.timeStamp - lastKeyMs;
      lastKeyMs = event.timeStamp;
      if (!isTimingKey(event, sinceLastMs) || document.querySelector('dialog[open]') !== null) return;
      event.preventDefault();
      pressedByKey(performance.now());
    };
    document.addEventListener('keydown', keyDown);
    return () => document.removeEventListener('keydown', keyDown);
  }, []);
  const isRunning = timing.phase !== 'idle';
  useEffect(() => {
    if (!isRunning) return;
    const ticking = setInterval(() => setNowMs(performance.now()), SHOWN_EVERY_MS);
    return () => clearInterval(ticking);
  }, [isRunning]);
  return {
    phase: timing.phase,
    seconds: timing.phase === 'idle' ? '' : secondsText(Math.max(0, nowMs - timing.sinceMs)),
    press: () => goOn(performance.now()),
    drop: () => setTiming(IDLE),
  };
}
