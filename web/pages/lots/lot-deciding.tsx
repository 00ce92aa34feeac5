import { useState } from 'react';
import type { SamplePlan } from '../../../server/lots/contract-decision.ts';
import type { LotWithVessels } from '../../../server/lots/contract.ts';
import { asksForDecision } from '../../../server/metrology/verdict.ts';
import { lotDecisionText } from '../../messages/en-lot-decisions.ts';
import { Acceptance } from '../../parts/acceptance.tsx';
import { Button } from '../../parts/button.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { Section } from '../../parts/page.tsx';
import { moment } from '../../parts/time.ts';
import { LotDecisionDialog } from './lot-decision-dialog.tsx';
import { VesselDecisionsDialog } from './vessel-decisions-dialog.tsx';

const words = lotDecisionText;
const hasLeftBench = ({ latest }: LotWithVessels['vessels'][number]): boolean =>
  latest !== null && latest.state !== 'open' && latest.state !== 'abandoned';

type Deciding = { about: 'lot'; plan: SamplePlan | null } | { about: 'vessels' };

/** What was decided about the delivery, what still waits for a decision, and what a sample of it tells. */
export function LotDeciding({ lot }: { lot: LotWithVessels }) {
  const [deciding, setDeciding] = useState<Deciding | null>(null);
  const tested = lot.vessels.filter(hasLeftBench);
  const waiting = lot.vessels.filter((vessel) => vessel.asksForDecision);
  const close = () => setDeciding(null);
  return (
    <Section title={words.title}>
      <div className="stack">
        <Decisions lot={lot} />
        {waiting.length > 0 && <p>{words.waiting(waiting.length)}</p>}
        <ForBench>
          <div className="row">
            {waiting.length > 0 && (
              <Button onClick={() => setDeciding({ about: 'vessels' })}>{words.decideVessels(waiting.length)}</Button>
            )}
            <Button onClick={() => setDeciding({ about: 'lot', plan: null })}>{words.decide}</Button>
          </div>
        </ForBench>
        {tested.length > 0 && (
          <details className="unfold">
            <summary>{words.sample}</summary>
            <Acceptance
              of={{
                delivered: lot.vessels.length,
                tested: tested.length,
                notPassing: tested.filter(({ latest }) => asksForDecision(latest?.verdict ?? null)).length,
              }}
              decide={(plan) => (
                <ForBench>
                  <div className="row">
                    <Button onClick={() => setDeciding({ about: 'lot', plan })}>{words.byPlan}</Button>
                  </div>
                </ForBench>
              )}
            />
          </details>
        )}
      </div>
      {deciding?.about === 'lot' && <LotDecisionDialog lot={lot} plan={deciding.plan} onClose={close} />}
      {deciding?.about === 'vessels' && <VesselDecisionsDialog lot={lot} vessels={waiting} onClose={close} />}
    </Section>
  );
}

function Decisions({ lot }: { lot: LotWithVessels }) {
  if (lot.decisions.length === 0) return null;
  return (
    <ul className="plain stack tight">
      {lot.decisions.map(({ number, decision, plan, counts, reason, at, by }) => (
        <li key={number}>
          <strong>{words.done[decision]}</strong>: {reason}
          <span className="lot-decision-counts quiet small">
            {[words.counts(counts), ...(plan ? [words.plan(plan)] : []), by, moment(at)].join(' · ')}
          </span>
        </li>
      ))}
    </ul>
  );
}
