import type { ReactNode } from 'react';
import { Link } from 'wouter';
import { stepsAsMade, titrationsAsMade } from '../../../server/metrology/solutions/as-made.ts';
import type { DilutionBody, StandardisationBody } from '../../../server/solutions/contract.ts';
import type { Preparation } from '../../../server/solutions/contract-record.ts';
import { recordText as words } from '../../messages/en-solution-record.ts';
import { resultText, standardisationText } from '../../messages/en-solutions.ts';
import { Section } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { significant } from '../../parts/rounding.ts';
import { uncertaintyWords, valueWords } from './result-words.ts';
import { typedOf } from './typed-rows.ts';

type Result = Preparation['result'];
type Vessel = Result['vessels'][number];

/** Each step of a dilution, each titration of a standardisation; a solid was weighed once, as its facts say. */
export function AsMade({ preparation: { solution, result } }: { preparation: Preparation }) {
  const typed = typedOf(solution);
  switch (typed.way) {
    case 'solid':
      return null;
    case 'dilution':
      return <Steps body={typed} result={result} />;
    case 'standardisation':
      return <Titrations body={typed} result={result} />;
  }
}

function AtMark({ vessel: { vesselId, tag, nominalMl }, by }: { vessel: Vessel; by: string }) {
  return (
    <>
      <Quantity value={String(nominalMl)} unit="mL" /> {by}{' '}
      <Link className="lone-link vessel-tag" href={`~/glassware/${vesselId}`}>
        {tag}
      </Link>
    </>
  );
}

interface Column {
  name: string;
  isNumber?: boolean;
}

function Listed({ title, columns, children }: { title: string; columns: readonly Column[]; children: ReactNode }) {
  return (
    <Section title={title}>
      <div className="table-box" role="region" aria-label={title} tabIndex={0}>
        <table className="table">
          <caption className="unseen">{title}</caption>
          <thead>
            <tr>
              {columns.map(({ name, isNumber }) => (
                <th key={name} scope="col" className={isNumber ? 'number' : undefined}>
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>{children}</tbody>
        </table>
      </div>
    </Section>
  );
}

function Steps({ body, result }: { body: DilutionBody; result: Result }) {
  const { title, columns, fromStock, fromStep } = words.steps;
  const { step, source, delivered, madeUp, after } = columns;
  return (
    <Listed
      title={title}
      columns={[...[step, source, delivered, madeUp].map((name) => ({ name })), { name: after, isNumber: true }]}
    >
      {stepsAsMade(body, result.vessels).map(({ deliveries, madeUpIn }, index) => {
        const came = result.steps?.[index];
        return (
          <tr key={index}>
            <th scope="row">{index + 1}</th>
            <td>{index === 0 ? fromStock : fromStep(index)}</td>
            <td>
              {deliveries.map((vessel, place) => (
                <span key={place} className="as-made-delivery">
                  <AtMark vessel={vessel} by={words.steps.with} />
                </span>
              ))}
            </td>
            <td>{madeUpIn && <AtMark vessel={madeUpIn} by={words.steps.in} />}</td>
            <td className="number">
              {came && (
                <Quantity
                  value={`${valueWords(came)} ${resultText.plusMinus(uncertaintyWords(came))}`}
                  unit={came.unit}
                />
              )}
            </td>
          </tr>
        );
      })}
    </Listed>
  );
}

function Titrations({ body, result }: { body: StandardisationBody; result: Result }) {
  const { title, columns } = words.titrations;
  const rows = titrationsAsMade(body, result);
  const isWeighed = rows.some(({ massG }) => massG !== null);
  const numbers = [columns.buretteFrom, columns.buretteTo, columns.used, columns.single(result.unit)];
  return (
    <Listed
      title={title}
      columns={[
        { name: standardisationText.number },
        isWeighed ? { name: columns.mass, isNumber: true } : { name: columns.pipette },
        ...numbers.map((name) => ({ name, isNumber: true })),
      ]}
    >
      {rows.map(({ massG, pipette, buretteFromMl, buretteToMl, usedMl, single }, index) => (
        <tr key={index}>
          <th scope="row">{index + 1}</th>
          <td className={isWeighed ? 'number' : undefined}>
            {massG ?? (pipette && <AtMark vessel={pipette} by={words.steps.with} />)}
          </td>
          <td className="number">{buretteFromMl}</td>
          <td className="number">{buretteToMl}</td>
          <td className="number">{usedMl}</td>
          <td className="number">{single !== null && significant(single, result.significantDigits + 1)}</td>
        </tr>
      ))}
    </Listed>
  );
}
