import { useState } from 'react';
import { choose, type Choice as Chosen, type Job } from '../../../server/metrology/class/choose.ts';
import { numbersText } from '../../messages/en-numbers.ts';
import { Choice, Field } from '../../parts/field.tsx';
import { Section } from '../../parts/page.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { significant } from '../../parts/rounding.ts';
import type { ShownRow } from './class-rows.ts';

const words = numbersText.choose;

interface Draft {
  need: Job['need'];
  volumeMl: string;
  volume: Job['volume'];
  percent: string;
}

/** Null while a number is missing or not above zero. */
function jobIn({ need, volumeMl, volume, percent }: Draft): Job | null {
  const [size, accuracy] = [readNumber(volumeMl, 'mL'), readNumber(percent, '%')];
  if (!size.ok || !(Number(size.value) > 0)) return null;
  if (need === 'hold') return { need, volumeMl: Number(size.value), volume, accuracy: null };
  if (!accuracy.ok || !(Number(accuracy.value) > 0)) return null;
  return { need, volumeMl: Number(size.value), volume, accuracy: { percent: Number(accuracy.value) } };
}

/** A job and the wanted accuracy; the ware to take for it by the class's own numbers, and why not the others. */
export function ChooseSection({ rows }: { rows: readonly ShownRow[] }) {
  const [draft, setDraft] = useState<Draft>({
    need: rows[0]?.ware.basis ?? 'contain',
    volumeMl: rows[0]?.ware.nominalVolumeMl ?? '25',
    volume: 'fixed',
    percent: '0.5',
  });
  const change = (changes: Partial<Draft>) => setDraft((before) => ({ ...before, ...changes }));
  const job = jobIn(draft);
  return (
    <Section title={words.title}>
      <p className="quiet measure">{words.lead}</p>
      <Choice
        name="need"
        label={words.need}
        value={draft.need}
        options={(['contain', 'deliver', 'hold'] as const).map((value) => ({ value, label: words.needs[value] }))}
        onChange={(need) => change({ need })}
      />
      <div className="field-pair">
        <Field
          name="volumeMl"
          label={words.volume}
          unit="mL"
          number
          value={draft.volumeMl}
          onChange={(volumeMl) => change({ volumeMl })}
        />
        <Choice
          name="volume"
          label={words.which}
          value={draft.volume}
          options={(['fixed', 'any'] as const).map((value) => ({ value, label: words.whiches[value] }))}
          onChange={(volume) => change({ volume })}
        />
        {draft.need !== 'hold' && (
          <Field
            name="percent"
            label={words.accuracy}
            unit="%"
            number
            value={draft.percent}
            onChange={(percent) => change({ percent })}
          />
        )}
      </div>
      {job === null ? <p className="field-problem">{words.unreadable}</p> : <Ranking job={job} rows={rows} />}
    </Section>
  );
}

function Ranking({ job, rows }: { job: Job; rows: readonly ShownRow[] }) {
  const { ranked, best } = choose(
    rows.map(({ figures }) => figures),
    job,
  );
  const labels = new Map(rows.map(({ ware }) => [ware.key, ware.label]));
  return (
    <div className="stack" aria-live="polite">
      {best === null && <p>{words.noneFits}</p>}
      <ol className="plain stack tight">
        {ranked.map((choice) => (
          <li key={choice.key} className="class-choice" data-adequate={choice.adequate ? '' : undefined}>
            <strong>
              {choice.adequate ? words.take : words.notThis}: {labels.get(choice.key)}
            </strong>
            <span className="quiet small">{whyOf(choice)}</span>
          </li>
        ))}
      </ol>
    </div>
  );
}

const whyOf = ({ adequate, reasons, reachMl }: Chosen): string =>
  adequate
    ? reachMl === null
      ? ''
      : words.reach(significant(reachMl, 2))
    : reasons.map(({ code, detail }) => `${words.reasons[code]}: ${detail}`).join(' ');
