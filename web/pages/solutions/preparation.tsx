import { useState } from 'react';
import { Link } from 'wouter';
import type { EndBody, Preparation } from '../../../server/solutions/contract-record.ts';
import { withQuery } from '../../api.ts';
import { recordText as words } from '../../messages/en-solution-record.ts';
import { resultText, shelfText } from '../../messages/en-solutions.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Choice } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { fixed } from '../../parts/rounding.ts';
import { moment } from '../../parts/time.ts';
import { AsMade } from './as-made.tsx';
import { ForPreparing } from './for-preparing.tsx';
import { preparationWords } from './preparation-words.ts';
import { usePreparation } from './queries.ts';
import { BudgetOpening, ExplainedConcentration, ResultSays } from './result-parts.tsx';
import { StepCautions } from './step-cautions.tsx';
import { stockIdOf, typedRows } from './typed-rows.ts';
import './solutions.css';

/** `/solutions/:id`: a solution as it was made, and what became of it. */
export default function PreparationPage({ id }: { id: string }) {
  const preparation = usePreparation(id);
  return (
    <Loaded query={preparation} what={shelfText.oneWhat}>
      {(loaded) => <Record preparation={loaded} />}
    </Loaded>
  );
}

/** The name of a titrant is no longer than this. */
const MOST_NAME = 80;

function Record({ preparation }: { preparation: Preparation }) {
  const { id, number, title, end, result } = preparation;
  const [isEnding, setEnding] = useState(false);
  return (
    <>
      <PageHeader
        title={title}
        documentTitle={`${number} ${title}`}
        within={{ href: '~/solutions', label: shelfText.title }}
        lead={<Lead preparation={preparation} />}
        actions={
          <>
            <a className="button button-plain" href={`/api/preparations/${id}/label.pdf`}>
              {words.label}
            </a>
            <a className="button button-plain" href={`/api/preparations/${id}/sheet.pdf`}>
              {words.sheet}
            </a>
            {end === null && (
              <ForPreparing>
                {preparation.approximate && <LinkButton href={standardiseHref(title)}>{words.standardise}</LinkButton>}
                <Button onClick={() => setEnding(true)}>{words.end}</Button>
              </ForPreparing>
            )}
          </>
        }
      />
      {end && (
        <Notice tone="strong">
          <p>
            <strong>{words.endings[end.ending]}</strong> {end.reason}{' '}
            <span className="quiet small">{words.by(end.by, moment(end.at))}</span>
          </p>
        </Notice>
      )}
      <section className="card stack" aria-label={resultText.concentration}>
        <ExplainedConcentration result={result} />
        <ResultSays result={result} accuracyPercent={preparation.accuracyPercent ?? undefined} />
        <BudgetOpening result={result} />
      </section>
      <div className="record-columns">
        <Section title={words.made}>
          <Facts preparation={preparation} />
          <StepCautions step="after" cautions={result.cautions} />
        </Section>
        <Section title={words.usedTitle}>
          <Used preparation={preparation} />
        </Section>
      </div>
      <AsMade preparation={preparation} />
      {preparation.decisions.length > 0 && <Decisions preparation={preparation} />}
      <p className="section no-print">
        <Link className="link-line" href={`~/records/journal?object=preparation/${id}`}>
          {words.entries}
        </Link>
      </p>
      {isEnding && <EndDialog preparation={preparation} onClose={() => setEnding(false)} />}
    </>
  );
}

/** The form of a standardisation with this solution as its titrant. */
const standardiseHref = (title: string): string =>
  withQuery('/standardisation', { titrant: title.slice(0, MOST_NAME) });

function Lead({ preparation: { number, way, madeOn, expiresOn, expired } }: { preparation: Preparation }) {
  return (
    <>
      {[number, words.ways[way], words.madeOn(madeOn)].join(' · ')}
      {expiresOn !== null && ` · ${words.expiresOn(expiresOn)}`}
      {expired && (
        <>
          {' · '}
          <strong className="verdict-fail">{shelfText.expired}</strong>
        </>
      )}
    </>
  );
}

/** What was typed, and by whom. */
function Facts({ preparation }: { preparation: Preparation }) {
  const { hazardLine, water, lots, note, recordedBy, recordedAt, solution } = preparation;
  const kept = [
    [words.hazardLine, hazardLine],
    [words.water, water],
    [words.lots, lots],
    [words.note, note],
    [words.recorded, words.by(recordedBy, moment(recordedAt))],
  ].flatMap(([name = '', value]) => (value === null || value === undefined ? [] : [{ name, value, unit: undefined }]));
  return (
    <dl className="facts">
      {[...typedRows(solution), ...kept].map(({ name, value, unit }) => (
        <div key={name} className="record-fact">
          <dt>{name}</dt>
          <dd>{unit === undefined ? value : <Quantity value={value} unit={unit} />}</dd>
        </div>
      ))}
    </dl>
  );
}

const VOLUME_DECIMALS = 4;

/** Vessels with the volume that counted, balances, and what the stock was made with. */
function Used({ preparation }: { preparation: Preparation }) {
  const { result, instruments, vesselsInStock } = preparation;
  const stockId = stockIdOf(preparation.solution);
  return (
    <div className="stack">
      {result.vessels.length > 0 && <VesselsUsed vessels={result.vessels} />}
      {stockId !== null && <Stock id={stockId} />}
      {instruments.length > 0 && (
        <p>
          {words.balance}{' '}
          {instruments.map(({ instrumentId, tag, use }) => (
            <span key={instrumentId + use}>
              <Link href={`~/instruments/${instrumentId}`}>{tag}</Link>
              {use === 'in-stock' && ` (${words.ofTheStock})`}{' '}
            </span>
          ))}
        </p>
      )}
      {vesselsInStock.length > 0 && (
        <p>
          {words.stockVessels}{' '}
          {vesselsInStock.map(({ vesselId, tag }, index) => (
            <span key={`${vesselId} ${index}`}>
              <Link href={`~/glassware/${vesselId}`}>{tag}</Link>{' '}
            </span>
          ))}
        </p>
      )}
    </div>
  );
}

/** Each use with the volume that counted. */
function VesselsUsed({ vessels }: { vessels: Preparation['result']['vessels'] }) {
  return (
    <div className="table-box" role="region" aria-label={words.vessels} tabIndex={0}>
      <table className="table">
        <caption className="unseen">{words.vessels}</caption>
        <thead>
          <tr>
            <th scope="col">{words.vessel}</th>
            <th scope="col">{words.use}</th>
            <th scope="col" className="number">
              {words.volume}
            </th>
            <th scope="col">{words.from}</th>
          </tr>
        </thead>
        <tbody>
          {vessels.map((one, index) => (
            <tr key={index}>
              <th scope="row">
                <Link className="lone-link" href={`~/glassware/${one.vesselId}`}>
                  {one.tag}
                </Link>
              </th>
              <td>{words.uses[one.use]}</td>
              <td className="number">
                <Quantity value={fixed(one.volumeMl, VOLUME_DECIMALS)} unit="mL" />
              </td>
              <td>
                {one.calibrationId === null ? (
                  <span className="quiet">{words.marked}</span>
                ) : (
                  <Link className="lone-link" href={`~/bench/${one.calibrationId}`}>
                    {words.calibration}
                  </Link>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The solution it was made from, or measured against. */
function Stock({ id }: { id: string }) {
  const stock = usePreparation(id);
  return (
    <p>
      {words.stock} <Link href={`/${id}`}>{stock.data?.number ?? id}</Link>{' '}
      <span className="quiet small">{stock.data && preparationWords(stock.data)}</span>
    </p>
  );
}

function Decisions({ preparation: { decisions } }: { preparation: Preparation }) {
  return (
    <Section title={words.decisions}>
      <ul className="plain stack tight">
        {decisions.map(({ number, decision, reason, at, by }) => (
          <li key={number}>
            {words.decided[decision]}: {reason} <span className="quiet small">{words.by(by, moment(at))}</span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

const ENDINGS = (Object.keys(words.endingChoices) as EndBody['ending'][]).map((value) => ({
  value,
  label: words.endingChoices[value],
}));

function EndDialog({ preparation, onClose }: { preparation: Preparation; onClose: () => void }) {
  const [ending, setEnding] = useState<EndBody['ending'] | ''>('');
  return (
    <ActDialog
      title={words.endTitle(preparation.number)}
      what={words.endWhat}
      path={`/api/preparations/${preparation.id}/end`}
      act={words.endAct}
      body={() => (ending === '' ? { problems: { ending: words.endMissing } } : { body: { ending } })}
      onClose={onClose}
    >
      {({ problemAt }) => (
        <Choice
          name="ending"
          label={words.ending}
          layout="list"
          value={ending}
          options={ENDINGS}
          problem={problemAt('ending')}
          onChange={setEnding}
        />
      )}
    </ActDialog>
  );
}
