import type { GroupPage } from '../../../server/experiments/contract-class.ts';
import { waitingText as words } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { typedPrediction, typedTrial, type Waiting } from './memory.ts';
import type { Group } from './use-group.ts';

/** What the class does not have yet: it goes by itself; what was refused is changed or taken out. */
export function WaitingList({ group, page }: { group: Group; page: GroupPage }) {
  const waiting = group.kept.waiting.filter(({ isFirst }) => !isFirst);
  if (waiting.length === 0) return null;
  return (
    <section className="class-waiting stack tight" aria-label={words.title}>
      <h2 className="class-small-heading">{words.title}</h2>
      <ul className="plain stack tight">
        {waiting.map((one) => (
          <li key={one.key} className="stack tight">
            <p>{wordsOf(one, page)}</p>
            {one.problem !== null && <Refused group={group} one={one} problem={one.problem} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The row and what was typed for it. */
export function wordsOf({ kind, row, body }: Waiting, page: GroupPage | null): string {
  const label = page?.experiment.rows.find(({ key }) => key === row)?.label ?? row;
  const what = kind === 'trial' ? words.trial(body.emptyG, body.filledG) : words.foreseen(body.volumeMl);
  return `${label}. ${what}`;
}

function Refused({ group: { memory, link, kept }, one, problem }: { group: Group; one: Waiting; problem: string }) {
  const isRoom = kept.drafts[one.row] === undefined;
  const change = () => {
    const { row, kind, body } = one;
    link.discard(one.key);
    memory.type(row, kind === 'trial' ? typedTrial(body) : typedPrediction(body));
    memory.change(() => ({ row }));
  };
  return (
    <>
      <p className="field-problem">
        {words.refused}: {problem}
      </p>
      <div className="row">
        <Button bench disabled={!isRoom} onClick={change}>
          {words.change}
        </Button>
        <Button look="quiet" bench onClick={() => link.discard(one.key)}>
          {words.takeOut}
        </Button>
        {!isRoom && <p className="field-help">{words.fieldsFull}</p>}
      </div>
    </>
  );
}
