import { type SubmitEvent, useCallback, useEffect, useState } from 'react';
import type { AnswerChecked, QuestionList } from '../../../server/experiments/contract-questions.ts';
import type { QuestionReason } from '../../../server/metrology/class/questions.ts';
import { getNow, isRefusal, newKey, postNow } from '../../api.ts';
import { checkText as words } from '../../messages/en-check-yourself.ts';
import { Button } from '../../parts/button.tsx';
import { Choice } from '../../parts/field.tsx';
import { LoadFailed, Loading } from '../../parts/loading.tsx';

type Asked = QuestionList['items'][number];
type Option = Asked['options'][number];

/** Jobs and statements for a group, answered by what the class measured so far. */
export default function CheckYourself({ experimentId }: { experimentId: string }) {
  const [items, setItems] = useState<readonly Asked[] | null>(null);
  const [error, setError] = useState<unknown>(null);
  const load = useCallback(() => {
    setError(null);
    getNow<QuestionList>(`/api/experiments/${experimentId}/questions`).then(
      (list) => setItems(list.items),
      (reason: unknown) => setError(reason),
    );
  }, [experimentId]);
  useEffect(load, [load]);
  if (error !== null) return <LoadFailed error={error} onRetry={load} />;
  if (items === null) return <Loading what={words.what} />;
  return (
    <div className="stack wide-gaps">
      <p className="quiet">{words.lead}</p>
      {items.length === 0 && <p>{words.none}</p>}
      {items.map((item) => (
        <QuestionCard key={item.id} experimentId={experimentId} asked={item} />
      ))}
    </div>
  );
}

const nameOf = ({ key, label }: Option): string => label ?? words.options[key] ?? key;
const namesOf = (options: readonly Option[]): string => options.map(nameOf).join(', ');
const reasonsOf = (reasons: readonly QuestionReason[]): string =>
  reasons.map((reason) => words.reasons[reason]).join('; ');

function QuestionCard({ experimentId, asked }: { experimentId: string; asked: Asked }) {
  const [option, setOption] = useState('');
  const [reason, setReason] = useState<QuestionReason | ''>('');
  const [told, setTold] = useState<AnswerChecked | null>(null);
  const [problem, setProblem] = useState('');
  const [busy, setBusy] = useState(false);
  const check = async (event: SubmitEvent) => {
    event.preventDefault();
    if (option === '' || reason === '') return setProblem(words.both);
    setBusy(true);
    setProblem('');
    try {
      const body = { question: asked.id, option, reason };
      setTold(await postNow<AnswerChecked>(`/api/experiments/${experimentId}/answers`, body, newKey()));
    } catch (error) {
      if (!isRefusal(error)) throw error;
      setProblem(error.message);
    } finally {
      setBusy(false);
    }
  };
  return (
    <form className="card stack" noValidate onSubmit={check}>
      <h3>
        {asked.about !== null && <span className="quiet">{words.ofRow(asked.about)} </span>}
        {asked.ask}
      </h3>
      <Choice
        name={`${asked.id}-option`}
        label={words.answer}
        value={option}
        options={asked.options.map((one) => ({ value: one.key, label: nameOf(one) }))}
        layout="list"
        onChange={setOption}
      />
      <Choice
        name={`${asked.id}-reason`}
        label={words.reason}
        value={reason}
        options={asked.reasons.map((value) => ({ value, label: words.reasons[value] }))}
        layout="list"
        onChange={setReason}
      />
      <div className="row">
        <Button type="submit" bench disabled={busy}>
          {words.check}
        </Button>
      </div>
      <div role="status" className="stack tight">
        {problem !== '' && <p className="field-problem">{problem}</p>}
        {told !== null && <Told told={told} />}
      </div>
    </form>
  );
}

function Told({ told }: { told: AnswerChecked }) {
  const { optionRight, reasonRight, right, reasons, against } = told;
  if (optionRight && reasonRight) return <p>{words.right}</p>;
  return (
    <>
      <p>{optionRight ? words.rightOtherReason : words.wrong}</p>
      {against.length > 0 && <p>{words.because(reasonsOf(against))}</p>}
      {!optionRight && <p>{words.wouldBe(namesOf(right))}</p>}
      <p className="quiet">{words.reasonsAre(reasonsOf(reasons))}</p>
    </>
  );
}
