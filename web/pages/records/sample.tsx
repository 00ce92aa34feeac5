import { type SyntheticEvent, useState } from 'react';
import { Link } from 'wouter';
import type { Sample } from '../../../server/records/contract-audit.ts';
import { recordsText } from '../../messages/en-records.ts';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Section } from '../../parts/page.tsx';
import { useSample } from './data.ts';
import { readSeed, useSeed } from './sample-seed.ts';

const words = recordsText.sample;

/** From a certificate down to one typed reading and its entry, drawn at random. */
export function SampleSection() {
  const { seed, draw } = useSeed();
  const sample = useSample(seed);
  return (
    <Section title={words.title} aside={<Button onClick={() => draw()}>{words.draw}</Button>}>
      <p className="measure quiet">{words.what}</p>
      <Loaded query={sample} what={words.what2}>
        {(loaded) => <Drawn sample={loaded} />}
      </Loaded>
      {seed !== null && <SeedField key={seed} seed={seed} onDraw={draw} />}
    </Section>
  );
}

/** For whoever wants the sample of somebody else, or of another day, once more. */
function SeedField({ seed, onDraw }: { seed: number; onDraw: (seed: number) => void }) {
  const [typed, setTyped] = useState(String(seed));
  const [problem, setProblem] = useState<string>();
  const again = (event: SyntheticEvent): void => {
    event.preventDefault();
    const chosen = readSeed(typed);
    if (chosen === null) setProblem(words.badSeed);
    else onDraw(chosen);
  };
  return (
    <form className="sample-seed no-print" onSubmit={again} noValidate>
      <Field
        name="seed"
        label={words.seedLabel}
        help={words.seedHelp}
        width="short"
        inputMode="numeric"
        value={typed}
        problem={problem}
        onChange={(value) => {
          setProblem(undefined);
          setTyped(value);
        }}
      />
      <Button type="submit">{words.again}</Button>
    </form>
  );
}

function Drawn({ sample }: { sample: Sample }) {
  if (sample.items.length === 0) return <p>{words.nothing}</p>;
  return (
    <>
      <div className="table-box" tabIndex={0} role="region" aria-label={words.title}>
        <table className="table">
          <caption>{words.caption}</caption>
          <thead>
            <tr>
              <th scope="col">{words.certificate}</th>
              <th scope="col">{words.calibration}</th>
              <th scope="col">{words.trial}</th>
              <th scope="col">{words.entry}</th>
              <th scope="col" className="number">
                {words.empty}
              </th>
              <th scope="col" className="number">
                {words.filled}
              </th>
              <th scope="col" className="number">
                {words.water}
              </th>
            </tr>
          </thead>
          <tbody>
            {sample.items.map((item) => (
              <Item key={item.calibrationId} item={item} />
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet small">{words.seed(sample.seed, sample.drawnFrom)}</p>
    </>
  );
}

function Item({ item }: { item: Sample['items'][number] }) {
  const { trial } = item;
  // A calibration of several points opens at the one the reading belongs to.
  const at = `?point=${trial.pointMl}`;
  return (
    <tr>
      <th scope="row">
        {item.certificate === null ? (
          <span className="quiet one-line">{words.noCertificate}</span>
        ) : (
          <Link className="one-line" href={`/certificates/${item.certificate}${at}`}>
            {item.certificate}
          </Link>
        )}
      </th>
      <td>
        <Link className="one-line" href={`~/bench/${item.calibrationId}${at}`}>
          {item.tag} {item.performedOn}
        </Link>
      </td>
      <td className="one-line">{words.trialAt(trial.number, trial.pointMl)}</td>
      <td>
        {item.entry === null ? (
          <strong>{words.noEntry}</strong>
        ) : (
          <Link href={`/journal?object=calibration/${item.calibrationId}`}>{item.entry}</Link>
        )}
      </td>
      <td className="number">{trial.emptyG}</td>
      <td className="number">{trial.filledG}</td>
      <td className="number">{trial.waterTemperatureC}</td>
    </tr>
  );
}
