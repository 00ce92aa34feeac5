import { Fragment, Suspense, useState } from 'react';
import type { Calibration, TrialOnWire } from '../../../server/calibrations/contract.ts';
import { benchText } from '../../messages/en-bench.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { decimalsOf, fixed, withTrueMinus } from '../../parts/rounding.ts';
import { UnfoldButton } from '../../parts/unfold.tsx';
import { Aligned } from './aligned.tsx';
import { mostDecimals, type MostDecimals } from './most-decimals.ts';
import { PendingRow } from './pending-row.tsx';
import { isAtPoint } from './record.ts';
import { StateMark } from './state-mark.tsx';
import { TrialActs } from './trial-acts.tsx';
import { later } from '../../parts/later.tsx';

const TrialExplained = later(() => import('./trial-explained.tsx'));
const words = benchText;
const COLUMNS = 7;

interface TrialTableProps {
  calibration: Calibration;
  pointMl: string;
  pending: readonly OutboxEntry[];
  /** Volumes by the id of the entry. */
  pendingVolumes: ReadonlyMap<string, number>;
  onTakeBack: (entry: OutboxEntry) => void;
}

/** Trials at one point, the newest first; those on their way to the server above those it has. */
export function TrialTable({ calibration, pointMl, pending, pendingVolumes, onTakeBack }: TrialTableProps) {
  const trials = calibration.trials.filter((trial) => isAtPoint(pointMl, trial)).reverse();
  const known = new Set(trials.map((trial) => trial.number));
  const unsent = pending.filter((entry) => isAtPoint(pointMl, entry) && !known.has(entry.savedNumber ?? 0)).reverse();
  const isDelivering = calibration.basis === 'deliver';
  const heads = isDelivering ? deliveryText.columns : { before: words.columns.empty, after: words.columns.filled };
  const most = mostDecimals([...trials.map((trial) => trial.used), ...unsent.flatMap((entry) => entry.body ?? [])]);
  if (trials.length === 0 && unsent.length === 0)
    return <p className="quiet">{isDelivering ? deliveryText.noTrials : words.noTrials}</p>;
  return (
    <div className="table-box" role="region" aria-label={words.trials} tabIndex={0}>
      <table className="table trials">
        <caption className="unseen">{words.trialsCaption(pointMl)}</caption>
        <thead>
          <tr>
            <th scope="col">{words.columns.number}</th>
            <th scope="col" className="number">
              {heads.before}
            </th>
            <th scope="col" className="number">
              {heads.after}
            </th>
            <th scope="col" className="number">
              {words.columns.water}
            </th>
            <th scope="col" className="number">
              {words.columns.volume}
            </th>
            <th scope="col" className="trial-state">
              <span className="state-word">{words.columns.state}</span>
            </th>
            <th scope="col" className="trial-open">
              <span className="unseen">{words.columns.open}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {unsent.map((entry) => (
            <PendingRow
              key={entry.id}
              entry={entry}
              volumeMl={pendingVolumes.get(entry.id)}
              most={most}
              onTakeBack={() => onTakeBack(entry)}
            />
          ))}
          {trials.map((trial) => (
            <TrialRow key={trial.number} calibration={calibration} trial={trial} most={most} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface TrialRowProps {
  calibration: Calibration;
  trial: TrialOnWire;
  most: MostDecimals;
}

function TrialRow({ calibration, trial, most }: TrialRowProps) {
  const [isOpen, setOpen] = useState(false);
  const detailId = `trial-${trial.number}`;
  return (
    <Fragment>
      <tr className={trial.exclusion ? 'trial-excluded' : undefined}>
        <th scope="row">{trial.number}</th>
        <td className="number">
          <Reading typed={trial.emptyG} used={trial.used.emptyG} most={most.empty} />
          <TakenWord trial={trial} />
        </td>
        <td className="number">
          <Reading typed={trial.filledG} used={trial.used.filledG} most={most.filled} />
          <TipWord trial={trial} />
        </td>
        <td className="number">
          <Reading typed={trial.waterTemperatureC} used={trial.used.waterTemperatureC} most={most.water} />
          {trial.waterTemperatureHalfWidthC && (
            <span className="trial-aside">{words.assumedTemperature(trial.waterTemperatureHalfWidthC)}</span>
          )}
        </td>
        <td className="number">
          <UnfoldButton isOpen={isOpen} controls={detailId} onPress={() => setOpen(!isOpen)}>
            <Aligned
              className="trial-volume"
              shown={fixed(trial.volumeMl, decimalsOf(trial.used.filledG))}
              most={most.filled}
            />
          </UnfoldButton>
          {trial.exclusion && <span className="trial-aside">{words.states.excluded}</span>}
          {trial.corrections.length > 0 && <span className="trial-aside">{words.states.corrected}</span>}
        </td>
        <td className="trial-state">
          <StateMark state="saved" />
        </td>
        <td className="trial-open">
          <button
            type="button"
            aria-expanded={isOpen}
            aria-controls={detailId}
            aria-label={words.openTrial(trial.number)}
            onClick={() => setOpen(!isOpen)}
          >
            <svg viewBox="0 0 16 16" aria-hidden="true">
              <path d={isOpen ? 'M3 10.5 8 5.5l5 5' : 'M3 5.5l5 5 5-5'} />
            </svg>
          </button>
        </td>
      </tr>
      {isOpen && (
        <tr className="trial-detail" id={detailId}>
          <td colSpan={COLUMNS}>
            <div className="stack">
              <Suspense fallback={null}>
                <TrialExplained calibration={calibration} trial={trial} />
              </Suspense>
              <TrialActs calibration={calibration} trial={trial} />
            </div>
          </td>
        </tr>
      )}
    </Fragment>
  );
}

/** The reading as displayed, and the corrected one beside the struck old one. */
function Reading({ typed, used, most }: { typed: string; used: string; most: number }) {
  if (typed === used) return <Aligned shown={withTrueMinus(typed)} most={most} />;
  return (
    <>
      <ins>
        <Aligned shown={withTrueMinus(used)} most={most} />
      </ins>
      <del className="trial-aside">{withTrueMinus(typed)}</del>
    </>
  );
}

function TipWord({ trial: { tip, channel } }: { trial: TrialOnWire }) {
  const said = [
    ...(tip ? [deliveryText.tipShort(tip)] : []),
    ...(channel == null ? [] : [deliveryText.channelShort(channel)]),
  ];
  return said.length === 0 ? null : <span className="trial-aside">{said.join(' · ')}</span>;
}

function TakenWord({ trial }: { trial: TrialOnWire }) {
  const taken = words.taken[trial.emptySource ?? 'own'];
  return taken === '' ? null : <span className="trial-aside">{taken}</span>;
}
