import { useEffect, useState } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import { text } from '../../messages/en.ts';
import { startText } from '../../messages/en-start.ts';
import { benchText } from '../../messages/en-bench.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { age } from '../../parts/time.ts';
import { airReadAt, conditionsInForce } from '../start/draft.ts';

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
        <Button look="quiet" onClick={() => setReading(true)}>
          {words.readAgain}
        </Button>
      )}
      {isReading && <ReadAgainDialog calibration={calibration} onClose={() => setReading(false)} />}
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

const FIELDS = [
  { name: 'airTemperatureC', label: startText.airTemperature, unit: '°C' },
  { name: 'airPressureHpa', label: startText.pressure, unit: 'hPa' },
  { name: 'relativeHumidityPercent', label: startText.humidity, unit: '%' },
] as const;
type AirField = (typeof FIELDS)[number]['name'];

function ReadAgainDialog({ calibration, onClose }: { calibration: Calibration; onClose: () => void }) {
  const [typed, setTyped] = useState<Record<AirField, string>>({
    airTemperatureC: '',
    airPressureHpa: '',
    relativeHumidityPercent: '',
  });
  const before = conditionsInForce(calibration);
  const body = () => {
    const problems: Partial<Record<string, string>> = {};
    const read: Partial<Record<AirField, string>> = {};
    for (const { name, unit } of FIELDS) {
      if (typed[name].trim() === '') continue;
      const number = readNumber(typed[name], unit);
      if (number.ok) read[name] = number.value;
      else problems[name] = number.problem;
    }
    if (Object.keys(problems).length > 0) return { problems };
    return Object.keys(read).length === 0 ? { problems: { airTemperatureC: words.nothingRead } } : { body: read };
  };
  return (
    <ActDialog
      title={words.readAgainTitle}
      what={words.readAgainHelp}
      path={`/api/calibrations/${calibration.id}/conditions`}
      act={text.form.save}
      needsReason={false}
      questionAt="airPressureHpa"
      body={body}
      onClose={onClose}
    >
      {(submission) =>
        FIELDS.map(({ name, label, unit }) => (
          <Field
            key={name}
            name={name}
            label={label}
            unit={unit}
            number
            value={typed[name]}
            placeholder={before[name] ?? ''}
            problem={submission.problemAt(name)}
            {...(name === 'airPressureHpa' ? { help: startText.pressureHelp } : {})}
            onChange={(value) => setTyped((known) => ({ ...known, [name]: value }))}
          />
        ))
      }
    </ActDialog>
  );
}
