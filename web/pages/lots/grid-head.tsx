import type { Round } from '../../../server/lots/contract-round.ts';
import { text } from '../../messages/en.ts';
import { gridText } from '../../messages/en-lots.ts';
import { Button } from '../../parts/button.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { Notice } from '../../parts/notice.tsx';
import { ReadingInput } from '../../parts/reading-input.tsx';
import { decimalsForUncertainty, fixed, withTrueMinus } from '../../parts/rounding.ts';
import { age } from '../../parts/time.ts';
import { Air, useMinutes } from '../bench/air.tsx';
import { airReminder } from '../bench/air-in-force.ts';
import { isStale } from './grid-trial.ts';
import { roundPath } from './queries.ts';
import { useDeeds } from '../../use-deeds.ts';
import type { GridActs } from './use-grid.ts';
import { type RoundHead, VESSELS_PER_ZERO_CHECK } from './use-round-head.ts';

const words = gridText;

interface GridHeadProps {
  round: Round;
  head: RoundHead;
  acts: GridActs;
}

/** What holds for the whole round: water, zero of the balance, air, spread of all vessels. */
export function GridHead({ round, head, acts }: GridHeadProps) {
  const nowMs = useMinutes();
  // What stands on a sheet was read long ago: nothing of it is asked for again.
  const isOpen = round.origin === null && round.rows.some(({ state }) => state === 'open');
  const reminder = isOpen ? airReminder(round, nowMs) : null;
  return (
    <div className="round-head">
      {isOpen && (
        <ForBench>
          <Water head={head} acts={acts} nowMs={nowMs} />
          <Zero round={round} head={head} acts={acts} />
        </ForBench>
      )}
      <div className="round-facts">
        <Air read={round} isOpen={isOpen} path={`${roundPath(round.lot.id, round.number)}/conditions`} />
        {reminder !== null && <Notice tone="strong">{reminder === 'old' ? words.airOld : words.airDrifting}</Notice>}
        {round.origin !== null && <p>{words.fromSheet(text.words.origins[round.origin], round.performedOn)}</p>}
        <p className="small">{pooledWords(round)}</p>
        <RefusedDeeds />
      </div>
    </div>
  );
}

function pooledWords({ pooled }: Round): string {
  if (pooled === null) return words.noPooled;
  return words.pooled(fixed(pooled.sdMl, decimalsForUncertainty(pooled.sdMl)), pooled.degreesOfFreedom, pooled.vessels);
}

function Water({ head, acts, nowMs }: Pick<GridHeadProps, 'head' | 'acts'> & { nowMs: number }) {
  const { water } = head;
  const ago = water ? age(new Date(water.readAtMs).toISOString(), nowMs) : '';
  const help = water === null ? words.waterMissing : isStale(water, nowMs) ? words.waterOld(ago) : words.waterHelp(ago);
  return (
    <ReadingInput
      name="round-water"
      label={words.water}
      unit="°C"
      value={head.waterField.typed}
      problem={head.waterField.problem ?? undefined}
      note={help}
      onChange={head.waterField.type}
      onRead={() => undefined}
      onEnter={() => {
        const target = head.enterWater();
        if (target) acts.goTo(target);
        else if (target === null) acts.advance(null);
      }}
    />
  );
}

function Zero({ round, head, acts }: GridHeadProps) {
  const last = round.zeroChecks.at(-1);
  const isDue = head.sinceZero >= VESSELS_PER_ZERO_CHECK;
  const help = isDue
    ? words.zeroAsked(head.sinceZero)
    : words.zeroHelp(VESSELS_PER_ZERO_CHECK, last ? withTrueMinus(last.readingG) : null);
  return (
    <ReadingInput
      name="round-zero"
      label={words.zero}
      unit="g"
      signed
      value={head.zeroField.typed}
      problem={head.zeroField.problem ?? undefined}
      note={help}
      onChange={head.zeroField.type}
      onRead={() => undefined}
      onEnter={() => {
        const target = head.enterZero();
        if (target === undefined) return;
        const detour = head.detour(target);
        if (detour !== null) document.getElementById(detour)?.focus();
        else if (target) acts.goTo(target);
        else acts.advance(null);
      }}
    />
  );
}

/** A look that the server did not take is said once, with why. */
function RefusedDeeds() {
  const { deeds, list } = useDeeds();
  const refused = list.filter((deed) => deed.refused !== null);
  if (refused.length === 0) return null;
  return (
    <Notice tone="strong">
      {refused.map((deed) => (
        <div key={deed.id} className="row">
          <span>
            {words.refusedDeed} {deed.refused}
          </span>
          <Button onClick={() => deeds.discard(deed.id)}>{words.dismiss}</Button>
        </div>
      ))}
    </Notice>
  );
}
