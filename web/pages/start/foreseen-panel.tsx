import { isRefusal } from '../../api.ts';
import { capabilityText } from '../../messages/en-uncertainty.ts';
import {
  BalancesTried,
  ForeseenLines,
  ForeseenStrip,
  ForeseenTable,
  foreseenWords,
  Helps,
} from '../../parts/capability.tsx';
import { Choice, TextArea } from '../../parts/field.tsx';
import { hardestPoint } from '../../parts/foreseen.ts';
import { fixed, decimalsForUncertainty, significant } from '../../parts/rounding.ts';
import type { Submission } from '../../parts/refusal.tsx';
import type { StartDraft } from './draft.ts';
import type { Foreseen } from './use-foreseen.ts';
import '../../parts/uncertainty.css';

const words = capabilityText;

interface ForeseenPanelProps {
  draft: StartDraft;
  foreseen: Foreseen;
  onChange: (changes: Partial<StartDraft>) => void;
  submission: Submission;
}

/** Before anyone gets wet hands: what balance, thermometer and this many trials can decide. */
export function ForeseenPanel({ draft, foreseen, onChange, submission }: ForeseenPanelProps) {
  const capability = foreseen.data;
  const point = capability && hardestPoint(capability);
  const balanceId = draft.instruments.balanceId;
  return (
    <section className="card stack foreseen" aria-label={words.title} aria-busy={foreseen.isPlaceholderData}>
      <h2>{words.title}</h2>
      {foreseen.isError && isRefusal(foreseen.error) && <p className="quiet">{foreseen.error.message}</p>}
      {!point ? (
        !foreseen.isError && <p className="quiet">{words.waiting}</p>
      ) : (
        <>
          <div className="foreseen-columns">
            <div className="stack">
              <ForeseenStrip point={point} />
              <ForeseenLines point={point} rule={draft.decisionRule} />
            </div>
            <div className="stack">
              {point.decidableAtZeroError === false && <Helps point={point} balanceId={balanceId} />}
              <BalancesTried point={point} balanceId={balanceId} />
            </div>
          </div>
          {capability.points.length > 1 && <ForeseenTable capability={capability} />}
          {capability.decidable === false && (
            <TextArea
              name="goOnReason"
              label={words.goOnReason}
              help={words.goOnHelp}
              rows={2}
              value={draft.goOnReason}
              problem={submission.problemAt('goOnReason')}
              onChange={(goOnReason) => onChange({ goOnReason })}
            />
          )}
        </>
      )}
    </section>
  );
}

/** The same in one line, beside the button that begins it. */
export function ForeseenLine({ foreseen }: { foreseen: Foreseen }) {
  const point = foreseen.data && hardestPoint(foreseen.data);
  if (!point) return null;
  const can = point.decidableAtZeroError;
  return (
    <p className="foreseen-line" role="status">
      {foreseenWords(point)}
      {can !== null && (
        <strong className={can ? undefined : 'verdict-not-decidable'}>
          {' · '}
          {can ? words.shortCan : words.shortCannot}
        </strong>
      )}
    </p>
  );
}

interface SpreadFieldsProps {
  draft: StartDraft;
  own: Foreseen;
  pooled: Foreseen;
  onChange: (changes: Partial<StartDraft>) => void;
  submission: Submission;
}

/** Spread of these trials or of earlier ones, each with the U it would give. */
export function SpreadFields({ draft, own, pooled, onChange, submission }: SpreadFieldsProps) {
  const ownPoint = own.data && hardestPoint(own.data);
  return (
    <Choice
      name="repeatability"
      label={words.spreadTitle}
      help={words.spreadHelp}
      layout="list"
      value={draft.repeatability}
      options={[
        {
          value: 'own',
          label: words.own,
          help: ownPoint ? words.ownHelp(significant(ownPoint.expandedUncertaintyMl, 2)) : words.ownHelpAlone,
        },
        { value: 'pooled', label: words.pooled, help: pooledHelp(pooled) },
      ]}
      problem={submission.problemAt('repeatability')}
      onChange={(repeatability) => onChange({ repeatability })}
    />
  );
}

function pooledHelp({ data }: Foreseen): string {
  const point = data && hardestPoint(data);
  if (!point) return words.pooledUnknown;
  const { kind, sdMl, degreesOfFreedom } = point.repeatability;
  if (kind !== 'pooled') return words.pooledNone;
  return words.pooledHelp(
    fixed(sdMl, decimalsForUncertainty(sdMl)),
    degreesOfFreedom,
    significant(point.expandedUncertaintyMl, 2),
  );
}
