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

/** The air in force, how old its reading is, and reading it again. */
export function Air({ calibration }: { calibration: Calibration }) {
  const [isReading, setReading] = useState(false);
  const nowMs = useMinutes();
  const air = conditionsInForce(calibration);
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
          {calibration.state === 'open' && (
            <span className="quiet small">{words.airRead(age(airReadAt(calibration), nowMs))}</span>
          )}
        </span>
      ) : (
        <span className="quiet">{words.noAir}</span>
      )}
      {calibration.state === 'open' && (
        <ForBench>
          <Button look="quiet" onClick={() => setReading(true)}>
            {words.readAgain}
          </Button>
        </ForBench>
      )}
      {isReading && (
        <Suspense fallback={null}>
          <ReadAgainDialog calibration={calibration} onClose={() => setReading(false)} />
        </Suspense>
      )}
    </div>
  );
}

function useMinutes(): number {
  const [nowMs, setNowMs] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => setNowMs(Date.now()), MINUTE_MS);
    return () => clearInterval(timer);
  }, []);
  return nowMs;
}
