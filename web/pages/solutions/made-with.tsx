import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import type { DecisionBody, TouchedList, TouchedPreparation } from '../../../server/solutions/contract-record.ts';
import { get } from '../../api.ts';
import { madeWithText as words, recordText } from '../../messages/en-solution-record.ts';
import { resultText } from '../../messages/en-solutions.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button } from '../../parts/button.tsx';
import { Choice } from '../../parts/field.tsx';
import { LoadFailed } from '../../parts/loading.tsx';
import { Section } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { signed, significant } from '../../parts/rounding.ts';
import { ForPreparing } from './for-preparing.tsx';
import { solutionKeys } from './queries.ts';
import { uncertaintyWords, valueWords } from './result-words.ts';
import './solutions.css';

interface MadeWithProps {
  of: 'vessels' | 'instruments';
  id: string;
}

/** Solutions made with a vessel or a balance since it was last known good, and what its error would mean for each. */
export default function MadeWith({ of, id }: MadeWithProps) {
  const touched = useQuery({
    queryKey: solutionKeys.affected(of, id),
    queryFn: ({ signal }) => get<TouchedList>(`/api/${of}/${id}/preparations`, signal),
  });
  const [deciding, setDeciding] = useState<TouchedPreparation | null>(null);
  if (touched.isError) return <LoadFailed error={touched.error} onRetry={() => void touched.refetch()} />;
  const list = touched.data;
  if (!list || list.items.length === 0) return null;
  return (
    <Section title={words.title}>
      <p className="quiet measure">
        {list.since === null ? words.sinceEver : words.since(list.since)} <Against of={of} against={list.against} />
      </p>
      <div className="table-box" role="region" aria-label={words.title} tabIndex={0}>
        <table className="table made-with">
          <caption className="unseen">{words.title}</caption>
          <thead>
            <tr>
              <th scope="col">{words.columns.number}</th>
              <th scope="col" className="number">
                {words.columns.stated}
              </th>
              <th scope="col" className="number">
                {words.columns.shift}
              </th>
              <th scope="col">{words.columns.matters}</th>
              <th scope="col">{words.columns.decision}</th>
            </tr>
          </thead>
          <tbody>
            {list.items.map((one) => (
              <Row key={one.id} one={one} onDecide={() => setDeciding(one)} />
            ))}
          </tbody>
        </table>
      </div>
      {deciding && <Decide one={deciding} of={of} id={id} onClose={() => setDeciding(null)} />}
    </Section>
  );
}

/** What the shift is reckoned with: a calibration of a vessel, a check of a balance. */
function Against({ of, against }: Pick<MadeWithProps, 'of'> & Pick<TouchedList, 'against'>) {
  if (against === null) return <>{words.againstNothing}</>;
  if (of === 'instruments') return <>{words.againstCheck}</>;
  return (
    <>
      {words.againstCalibration} <Link href={`~/bench/${against}`}>{words.newest}</Link>
    </>
  );
}

const SHIFT_DIGITS = 2;

function shiftWords(percent: number): string {
  const decimals = significant(Math.abs(percent), SHIFT_DIGITS).split('.')[1]?.length ?? 0;
  return signed(percent, decimals);
}

function Row({ one, onDecide }: { one: TouchedPreparation; onDecide: () => void }) {
  const { shift, decision } = one;
  return (
    <tr>
      <th scope="row">
        <Link className="lone-link" href={`~/solutions/${one.id}`}>
          {one.number}
        </Link>
        <span className="made-with-title quiet small">
          {one.title} · {one.madeOn}
        </span>
      </th>
      <td className="number">
        <Quantity value={`${valueWords(one)} ${resultText.plusMinus(uncertaintyWords(one))}`} unit={one.unit} />
      </td>
      <td className="number">
        {shift === null ? (
          <span className="quiet">{words.noShift}</span>
        ) : (
          <>
            <Quantity value={shiftWords(shift.percent)} unit="%" />
            <span className="made-with-title quiet small">
              {significant(shift.value, one.significantDigits + 1)} {one.unit}
            </span>
          </>
        )}
      </td>
      <td>
        <Matters matters={shift?.matters ?? null} isKnown={shift !== null} />
      </td>
      <td>
        {decision === null ? (
          <ForPreparing>
            <Button onClick={onDecide} aria-label={words.decideOn(one.number)}>
              {words.decide}
            </Button>
          </ForPreparing>
        ) : (
          <>
            {recordText.decided[decision.decision]}
            <span className="made-with-title quiet small">{decision.reason}</span>
          </>
        )}
      </td>
    </tr>
  );
}

function Matters({ matters, isKnown }: { matters: boolean | null; isKnown: boolean }) {
  if (!isKnown) return null;
  if (matters === null) return <span className="quiet">{words.mattersUnknown}</span>;
  return matters ? <strong className="verdict-fail">{words.mattersYes}</strong> : <>{words.mattersNo}</>;
}

const DECISIONS = (Object.keys(words.choices) as DecisionBody['decision'][]).map((value) => ({
  value,
  label: words.choices[value],
}));

function Decide({ one, of, id, onClose }: MadeWithProps & { one: TouchedPreparation; onClose: () => void }) {
  const [decision, setDecision] = useState<DecisionBody['decision'] | ''>('');
  const cause = of === 'vessels' ? { vesselId: id } : { instrumentId: id };
  return (
    <ActDialog
      title={words.decideOn(one.number)}
      what={words.decideWhat}
      path={`/api/preparations/${one.id}/decisions`}
      act={words.decideAct}
      body={() =>
        decision === '' ? { problems: { decision: words.decideMissing } } : { body: { ...cause, decision } }
      }
      onClose={onClose}
    >
      {({ problemAt }) => (
        <Choice
          name="decision"
          label={words.columns.decision}
          layout="list"
          value={decision}
          options={DECISIONS}
          problem={problemAt('decision')}
          onChange={setDecision}
        />
      )}
    </ActDialog>
  );
}
