/** Materials, findings, sources and words: what is read, not worked. */
import { useEffect } from 'react';
import { volumeMlAt } from '../../../server/metrology/volume.ts';
import type { Material } from '../../../server/metrology/record.ts';
import type { ReferenceBook } from '../../../server/reference/contract.ts';
import { practiceText } from '../../messages/en-practice.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { text } from '../../messages/en.ts';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { fixed } from '../../parts/rounding.ts';
import { useReferenceBook } from './data.ts';
import { numeral, SourceName } from './formula-details.tsx';
import { AlignedNumber, RoomHeader, WideTable } from './parts.tsx';

export function MaterialsPage() {
  const book = useReferenceBook();
  const words = referenceText.materials;
  return (
    <>
      <RoomHeader room="materials" lead={words.lead} />
      <Loaded query={book} what={referenceText.what}>
        {({ materials, sources }) => (
          <div className="stack">
            <WideTable caption={words.caption}>
              <thead>
                <tr>
                  <th scope="col">{words.material}</th>
                  <th scope="col" className="number">
                    {words.coefficient}
                  </th>
                  <th scope="col" className="number">
                    {words.doubt}
                  </th>
                  <th scope="col" className="number">
                    {words.change}
                  </th>
                  <th scope="col">{words.from}</th>
                </tr>
              </thead>
              <tbody>
                {materials.map((row) => (
                  <MaterialRow key={row.material} row={row} sources={sources} />
                ))}
              </tbody>
            </WideTable>
            <Notice>{words.plastics}</Notice>
          </div>
        )}
      </Loaded>
    </>
  );
}

/** A power of ten does not end a line in its middle. */
const unbroken = (words: string): string => words.replaceAll(/(\de)-(\d)/g, '$1\u2011$2');

interface MaterialRowProps {
  row: ReferenceBook['materials'][number];
  sources: ReferenceBook['sources'];
}

function MaterialRow({ row, sources }: MaterialRowProps) {
  const words = referenceText.materials;
  const coefficient = row.expansionPerK;
  return (
    <tr>
      <th scope="row">{text.words.materials[row.material as Material]}</th>
      <td className="number">
        {coefficient === null ? words.typed : <AlignedNumber value={coefficient * 1e6} decimals={1} />}
      </td>
      <td className="number">{words.doubtValue(fixed(row.relativeHalfWidth * 100, 0))}</td>
      <td className="number">
        {coefficient === null ? '' : `+${fixed(volumeMlAt(100, coefficient, 25, 20) - 100, 4)} mL`}
      </td>
      <td>
        {row.source !== null && (
          <>
            <SourceName of={row.source} sources={sources} />{' '}
            <span className="quiet small">{unbroken(row.locator ?? '')}</span>
          </>
        )}
      </td>
    </tr>
  );
}

type Assumption = ReferenceBook['assumptions'][number];

const nameOf = ({ name, locator }: Assumption): string => {
  const names: Record<string, string> = referenceText.assumptions.names;
  return names[name] ?? locator;
};

export function AssumptionsPage() {
  const book = useReferenceBook();
  const words = referenceText.assumptions;
  return (
    <>
      <RoomHeader room="assumptions" lead={words.lead} />
      <Loaded query={book} what={referenceText.what}>
        {({ assumptions, sources }) => (
          <WideTable caption={words.caption}>
            <thead>
              <tr>
                <th scope="col">{words.what}</th>
                <th scope="col" className="number">
                  {words.value}
                </th>
                <th scope="col">{words.meaning}</th>
                <th scope="col">{words.from}</th>
              </tr>
            </thead>
            <tbody>
              {assumptions.map((one) => (
                <tr key={one.name}>
                  <th scope="row">{nameOf(one)}</th>
                  <td className="number">
                    {numeral(one.value)} {one.unit !== '1' && <span className="quiet">{one.unit}</span>}
                  </td>
                  <td>{one.locator}</td>
                  <td>
                    <SourceName of={one.source} sources={sources} />
                  </td>
                </tr>
              ))}
            </tbody>
          </WideTable>
        )}
      </Loaded>
    </>
  );
}

export function FindingsPage() {
  const book = useReferenceBook();
  const words = referenceText.findings;
  return (
    <>
      <RoomHeader room="findings" lead={words.lead} />
      <Loaded query={book} what={referenceText.what}>
        {({ findings }) => (
          <dl className="lexicon">
            {findings.map(({ code, meaning }) => (
              <div key={code} id={code}>
                <dt>
                  <code>{code}</code>
                </dt>
                <dd>{meaning}</dd>
              </div>
            ))}
          </dl>
        )}
      </Loaded>
    </>
  );
}

export function WordsPage() {
  return (
    <>
      <RoomHeader room="words" lead={practiceText.words.lead} />
      <dl className="lexicon">
        {practiceText.words.list.map(({ word, means }) => (
          <div key={word}>
            <dt>{word}</dt>
            <dd>{means}</dd>
          </div>
        ))}
      </dl>
    </>
  );
}

export function SourcesPage() {
  const book = useReferenceBook();
  const isThere = book.data !== undefined;
  // The works come after the page; only then can the address point at one of them.
  useEffect(() => {
    if (isThere) document.getElementById(window.location.hash.slice(1))?.scrollIntoView({ block: 'center' });
  }, [isThere]);
  return (
    <>
      <RoomHeader room="sources" lead={referenceText.sources.lead} />
      <Loaded query={book} what={referenceText.what}>
        {({ sources }) => (
          <ul className="plain works">
            {sources.map((work) => (
              <li key={work.key} id={work.key}>
                <p>
                  <strong>{work.title}</strong>
                </p>
                <p>
                  {work.authors} · {work.year} · {work.place}
                </p>
                <p className="quiet small">
                  <code>{work.key}</code>
                  {work.doi !== null && ` · ${referenceText.sources.doi} ${work.doi}`}
                </p>
              </li>
            ))}
          </ul>
        )}
      </Loaded>
    </>
  );
}
