import { useState } from 'react';
import { normalisedError } from '../../../server/metrology/over-time/en.ts';
import type { VesselPointOverTime } from '../../../server/over-time/contract.ts';
import { overTimeText } from '../../messages/en-over-time.ts';
import { Field } from '../../parts/field.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { signed } from '../../parts/rounding.ts';

const words = overTimeText.outside;

/** The last mean beside that of another laboratory; nothing is stored. */
export function OutsideLaboratory({ point }: { point: VesselPointOverTime }) {
  const [mean, setMean] = useState('');
  const [uncertainty, setUncertainty] = useState('');
  const last = point.calibrations.at(-1);
  if (!last) return null;
  const problem = (typed: string) => {
    const read = readNumber(typed, 'mL');
    return typed.trim() === '' || read.ok ? undefined : read.problem;
  };
  const [theirMean, theirU] = [readNumber(mean, 'mL'), readNumber(uncertainty, 'mL')];
  const error =
    theirMean.ok && theirU.ok && Number(theirU.value) >= 0
      ? normalisedError(last, { meanMl: Number(theirMean.value), expandedUncertaintyMl: Number(theirU.value) })
      : null;
  return (
    <details className="unfold">
      <summary>{words.title}</summary>
      <div className="stack tight">
        <p className="quiet small measure">{words.what}</p>
        <div className="row">
          <Field
            name="outside-mean"
            label={words.mean}
            unit="mL"
            number
            value={mean}
            onChange={setMean}
            problem={problem(mean)}
          />
          <Field
            name="outside-uncertainty"
            label={words.uncertainty}
            unit="mL"
            number
            value={uncertainty}
            onChange={setUncertainty}
            problem={problem(uncertainty)}
          />
        </div>
        <p role="status">{error === null ? words.fill : words.result(signed(error, 2), Math.abs(error) <= 1)}</p>
      </div>
    </details>
  );
}
