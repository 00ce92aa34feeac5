import { useQueryClient } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Sample } from '../../../server/records/contract-audit.ts';
import { recordsText } from '../../messages/en-records.ts';
import { Button } from '../../parts/button.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Section } from '../../parts/page.tsx';
import { useSample } from './data.ts';

const words = recordsText.sample;

/** From a certificate down to one typed reading and its entry, drawn at random. */
export function SampleSection() {
  const sample = useSample(undefined);
  const client = useQueryClient();
  return (
    <Section
      title={words.title}
      aside={<Button onClick={() => void client.resetQueries({ queryKey: ['audit', 'sample'] })}>{words.draw}</Button>}
    >
      <p className="measure quiet">{words.what}</p>
      <Loaded query={sample} what={words.what2}>
        {(loaded) => <Drawn sample={loaded} />}
      </Loaded>
    </Section>
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
              <th scope="col" className="number">
                {words.empty}
              </th>
              <th scope="col" className="number">
                {words.filled}
              </th>
              <th scope="col" className="number">
                {words.water}
              </th>
              <th scope="col">{words.entry}</th>
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
      <td className="number">{trial.emptyG}</td>
      <td className="number">{trial.filledG}</td>
      <td className="number">{trial.waterTemperatureC}</td>
      <td>
        {item.entry === null ? (
          <strong>{words.noEntry}</strong>
        ) : (
          <Link href={`/journal?object=calibration/${item.calibrationId}`}>{item.entry}</Link>
        )}
      </td>
    </tr>
  );
}
