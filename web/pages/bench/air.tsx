import { Suspense, useEffect, useState } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import { benchText } from '../../messages/en-bench.ts';
import { Button } from '../../parts/button.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { age } from '../../parts/time.ts';
import { airReadAt, conditionsInForce } from './air-in-force.ts';
import { later } from '../../parts/later.tsx';

const ReadAgainDialog = later(() => import('./air-dialog.tsx'));
const words = benchText;
const MINUTE_MS = 60_000;

interface AirProps {
  read: Pick<Calibration, 'conditions' | 'conditionReadings' | 'recordedAt'>;
  isOpen: boolean;
  /** Where a further reading goes. */
  path: string;
}

/** The air in force, how old its reading is, and reading it again. */
export function Air({ read, isOpen, path }: AirProps) {
  const [isReading, setReading] = useState(false);
  const nowMs = useMinutes();
  const air = conditionsInForce(read);
  const known: [value: string | undefined, unit: string][] = [
    [air.airTemperatureC, '°C'],
    [air.airPressureHpa, 'hPa'],
    [air.relativeHumidityPercent, '%'],
  ];
  const isKnown = known.some(([value]) => value !== undefined);
  return (
    <div className="air">
      {isKnown ? (
        <span className="air-values">
          {known.map(([value, unit]) => value !== undefined && <Quantity key={unit} value={value} unit={unit} />)}
          {isOpen && <span className="quiet small">{words.airRead(age(airReadAt(read), nowMs))}</span>}
        </span>
      ) : (
        <span className="quiet">{words.noAir}</span>
      )}
      {isOpen && (
        <ForBench>
          <Button look="quiet" onClick={() => setReading(true)}>
            {words.readAgain}
          </Button>
        </ForBench>
      )}
      {isReading && (
        <Suspense fallback={null}>
          <ReadAgainDialog read={read} path={path} onClose={() => setReading(false)} />
        </Suspense>
      )}
    </div>
  );
}

/** The present time, a minute at a time. */
export function useMinutes(): number {
  const [nowMs, setNowMs] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => setNowMs(Date.now()), MINUTE_MS);
    return () => clearInterval(timer);
  }, []);
  return nowMs;
}
