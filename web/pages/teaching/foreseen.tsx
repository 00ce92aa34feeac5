import { keepPreviousData, useQuery } from '@tanstack/react-query';
import type { Foresight } from '../../../server/experiments/contract.ts';
import { newKey, post } from '../../api.ts';
import { planText as words } from '../../messages/en-teaching.ts';
import { Button } from '../../parts/button.tsx';
import { decimalsForTolerance, fixed } from '../../parts/rounding.ts';
import { useSettled } from '../../parts/use-settled.ts';
import { foresightIn, type PlanDraft } from './plan-draft.ts';

interface ForeseenProps {
  draft: PlanDraft;
  onChange: (draft: PlanDraft) => void;
  isLate: boolean;
}

const AFTER_TYPING_MS = 300;

/** What the plan takes in time, while it is typed; and what would fit the lesson. */
export function Foreseen({ draft, onChange, isLate }: ForeseenProps) {
  const body = useSettled(JSON.stringify(foresightIn(draft)), AFTER_TYPING_MS);
  const foresight = useQuery({
    queryKey: ['foresight', body],
    queryFn: () => post<Foresight>('/api/experiments/foresight', JSON.parse(body), newKey()),
    enabled: body !== 'null',
    placeholderData: keepPreviousData,
  });
  if (body === 'null')
    return (
      <section className="card stack" aria-live="polite">
        <h2>{words.foresightTitle}</h2>
        <p className="quiet">{words.foresightWaiting}</p>
      </section>
    );
  if (!foresight.data) return null;
  const { minutes, weighings, fits, proposal, balancesNeeded, tooCoarse } = foresight.data;
  const labels = new Map(draft.rows.map(({ key, label }) => [key, label]));
  const take = () => {
    const trials = new Map(proposal?.trialsPerGroup.map((row) => [row.key, row.trials]));
    onChange({
      ...draft,
      rows: draft.rows.map((row) => ({ ...row, trials: String(trials.get(row.key) ?? row.trials) })),
    });
  };
  return (
    <section className="card stack" aria-live="polite">
      <h2>{words.foresightTitle}</h2>
      <p>
        <strong className="class-minutes">{fixed(minutes, 0)} min</strong>
        <span className="quiet small"> {words.weighings(weighings)}</span>
      </p>
      <p className="quiet small">{words.minutes(fixed(minutes, 0), Number(draft.lessonMinutes))}</p>
      {!fits && (
        <div className="notice notice-strong">
          <p>{words.tooLong}</p>
          {proposal?.fits ? (
            <>
              <p className="small">{words.proposal(fixed(proposal.minutes, 0))}</p>
              {!isLate && <Button onClick={take}>{words.takeProposal}</Button>}
            </>
          ) : (
            <p className="small">{words.stillTooLong}</p>
          )}
          <p className="small">{words.balancesNeeded(balancesNeeded)}</p>
        </div>
      )}
      {tooCoarse.length > 0 && (
        <ul className="plain stack tight small">
          {tooCoarse.map(({ row, balance, expandedUncertaintyMl, toleranceMl }) => (
            <li key={`${row} ${balance}`} className="notice">
              {words.tooCoarse(
                balance,
                labels.get(row) ?? row,
                fixed(expandedUncertaintyMl, decimalsForTolerance(expandedUncertaintyMl)),
                fixed(toleranceMl, decimalsForTolerance(toleranceMl)),
              )}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
