import { useState } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import { text } from '../../messages/en.ts';
import { benchText } from '../../messages/en-bench.ts';
import { startText } from '../../messages/en-start.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Field } from '../../parts/field.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { conditionsInForce } from './air-in-force.ts';

const words = benchText;

const FIELDS = [
  { name: 'airTemperatureC', label: startText.airTemperature, unit: '°C' },
  { name: 'airPressureHpa', label: startText.pressure, unit: 'hPa' },
  { name: 'relativeHumidityPercent', label: startText.humidity, unit: '%' },
] as const;
type AirField = (typeof FIELDS)[number]['name'];

interface ReadAgainProps {
  read: Pick<Calibration, 'conditions' | 'conditionReadings'>;
  path: string;
  onClose: () => void;
}

/** The air read again: it holds for the trials that follow. */
export default function ReadAgainDialog({ read, path, onClose }: ReadAgainProps) {
  const [typed, setTyped] = useState<Record<AirField, string>>({
    airTemperatureC: '',
    airPressureHpa: '',
    relativeHumidityPercent: '',
  });
  const before = conditionsInForce(read);
  const body = () => {
    const problems: Partial<Record<string, string>> = {};
    const numbers: Partial<Record<AirField, string>> = {};
    for (const { name, unit } of FIELDS) {
      if (typed[name].trim() === '') continue;
      const number = readNumber(typed[name], unit);
      if (number.ok) numbers[name] = number.value;
      else problems[name] = number.problem;
    }
    if (Object.keys(problems).length > 0) return { problems };
    return Object.keys(numbers).length === 0 ? { problems: { airTemperatureC: words.nothingRead } } : { body: numbers };
  };
  return (
    <ActDialog
      title={words.readAgainTitle}
      what={words.readAgainHelp}
      path={path}
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
