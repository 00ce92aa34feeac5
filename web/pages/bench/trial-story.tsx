import { useState } from 'react';
import type { Calibration, TrialOnWire } from '../../../server/calibrations/contract.ts';
import { EXCLUSION_CAUSES, type ExclusionCause } from '../../../server/metrology/record.ts';
import { text } from '../../messages/en.ts';
import { benchText } from '../../messages/en-bench.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button } from '../../parts/button.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { withTrueMinus } from '../../parts/rounding.ts';
import { moment } from '../../parts/time.ts';

const words = benchText;
type Act = 'exclude' | 'include' | 'correct';

/** What is known of one trial beside its numbers, and the acts on it. */
export default function TrialStory({ calibration, trial }: { calibration: Calibration; trial: TrialOnWire }) {
  const [act, setAct] = useState<Act | null>(null);
  const close = () => setAct(null);
  const path = `/api/calibrations/${calibration.id}/trials/${trial.number}`;
  return (
    <div className="stack tight">
      <Story trial={trial} />
      {calibration.state === 'open' && (
        <ForBench>
          <div className="row">
            <Button bench onClick={() => setAct('correct')}>
              {words.correct}
            </Button>
            <Button bench onClick={() => setAct(trial.exclusion ? 'include' : 'exclude')}>
              {trial.exclusion ? words.include : words.exclude}
            </Button>
          </div>
        </ForBench>
      )}
      {act === 'exclude' && <ExcludeDialog trial={trial} path={`${path}/exclusion`} onClose={close} />}
      {act === 'include' && (
        <ActDialog
          title={words.includeTitle(trial.number)}
          what={null}
          path={`${path}/inclusion`}
          act={words.doInclude}
          onClose={close}
        />
      )}
      {act === 'correct' && <CorrectDialog trial={trial} path={`${path}/correction`} onClose={close} />}
    </div>
  );
}

function Story({ trial }: { trial: TrialOnWire }) {
  const { exclusion, corrections, findings, note, recordedBy, recordedAt } = trial;
  return (
    <>
      {exclusion && <p>{words.excludedBecause(text.words.exclusionCauses[exclusion.cause], exclusion.reason)}</p>}
      {corrections.map(({ field, value, reason }, index) => (
        <p key={index}>
          {words.correctedTo(words.fields[field] ?? field, readingBefore(trial, field, index), withTrueMinus(value))}{' '}
          <span className="quiet">{reason}</span>
        </p>
      ))}
      {findings.map(({ code, detail }) => (
        <p key={code + detail} className="quiet">
          {detail}
        </p>
      ))}
      <Delivered trial={trial} />
      {note && <p>{note}</p>}
      {recordedBy && recordedAt && <p className="quiet small">{words.recorded(recordedBy, moment(recordedAt))}</p>}
    </>
  );
}

function Delivered({ trial }: { trial: TrialOnWire }) {
  const { deliveryTimeS, waitingTimeS, drainPosition, tip, channel } = trial;
  const said = [
    ...(deliveryTimeS == null ? [] : [deliveryText.delivered(deliveryTimeS)]),
    ...(waitingTimeS == null ? [] : [deliveryText.waited(waitingTimeS)]),
    ...(drainPosition ? [deliveryText.held(drainPosition)] : []),
    ...(tip ? [deliveryText.withTip(tip)] : []),
    ...(channel == null ? [] : [deliveryText.throughChannel(channel)]),
  ];
  return said.length === 0 ? null : <p>{said.join(' ')}</p>;
}

const isField = (trial: TrialOnWire, field: string): field is keyof TrialOnWire => field in trial;

/** The value a correction replaced: the correction of the same field before it, else what was typed first. */
function readingBefore(trial: TrialOnWire, field: string, index: number): string {
  const earlier = trial.corrections.slice(0, index).findLast((correction) => correction.field === field)?.value;
  const first = isField(trial, field) ? trial[field] : undefined;
  return withTrueMinus(earlier ?? (typeof first === 'string' ? first : text.words.none));
}

interface DialogProps {
  trial: TrialOnWire;
  path: string;
  onClose: () => void;
}

function ExcludeDialog({ trial, path, onClose }: DialogProps) {
  const [cause, setCause] = useState<ExclusionCause | ''>('');
  return (
    <ActDialog
      title={words.excludeTitle(trial.number)}
      what={words.excludeWhat}
      path={path}
      act={words.doExclude}
      body={() => (cause === '' ? { problems: { cause: words.causeMissing } } : { body: { cause } })}
      onClose={onClose}
    >
      {(submission) => (
        <Choice
          name="cause"
          label={words.cause}
          layout="list"
          value={cause}
          options={EXCLUSION_CAUSES.map((value) => ({ value, label: text.words.exclusionCauses[value] }))}
          problem={submission.problemAt('cause')}
          onChange={setCause}
        />
      )}
    </ActDialog>
  );
}

const READINGS = ['emptyG', 'filledG', 'waterTemperatureC'] as const;
const OTHERS = [
  'waterTemperatureHalfWidthC',
  'airTemperatureC',
  'airPressureHpa',
  'relativeHumidityPercent',
  'deliveryTimeS',
  'waitingTimeS',
  'openTimeS',
] as const;
type Correctable = (typeof READINGS)[number] | (typeof OTHERS)[number];

function CorrectDialog({ trial, path, onClose }: DialogProps) {
  const [field, setField] = useState<Correctable | ''>('');
  const [value, setValue] = useState('');
  const fields: Correctable[] = [...READINGS, ...OTHERS.filter((one) => trial[one] != null)];
  const present = (one: Correctable): string =>
    withTrueMinus(one in trial.used ? trial.used[one as keyof TrialOnWire['used']] : (trial[one] ?? ''));
  const unit = field.endsWith('G') ? 'g' : field.endsWith('C') ? '°C' : '';
  return (
    <ActDialog
      title={words.correctTitle(trial.number)}
      what={words.correctWhat}
      path={path}
      act={words.doCorrect}
      questionAt="value"
      body={() => {
        const read = readNumber(value, unit);
        if (field === '') return { problems: { field: words.correctNone } };
        return read.ok ? { body: { field, value: read.value } } : { problems: { value: read.problem } };
      }}
      onClose={onClose}
    >
      {(submission) => (
        <>
          <Select
            name="field"
            label={words.correctField}
            value={field}
            options={fields.map((one) => ({ value: one, label: words.fields[one] ?? one }))}
            problem={submission.problemAt('field')}
            onChange={setField}
          />
          <Field
            name="value"
            label={words.correctValue}
            {...(field === '' ? {} : { help: words.correctNow(present(field)) })}
            unit={unit}
            signed
            value={value}
            problem={submission.problemAt('value')}
            onChange={setValue}
          />
        </>
      )}
    </ActDialog>
  );
}
