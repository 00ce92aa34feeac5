import type { Calibration, TrialOnWire } from '../../../server/calibrations/contract.ts';
import { workingText } from '../../messages/en-working.ts';
import ExplanationPanel from '../../parts/explanation-tree.tsx';
import { decimalsOf, fixed } from '../../parts/rounding.ts';
import { Unfold } from '../../parts/unfold.tsx';
import { UnfoldingOf } from '../../parts/unfolding.tsx';

const words = workingText;

/** The working of a trial, each part opening further; simple division beside it. */
export default function TrialExplained({ calibration, trial }: { calibration: Calibration; trial: TrialOnWire }) {
  const decimals = decimalsOf(trial.used.filledG);
  const difference = trial.simpleVolumeMl - trial.volumeMl;
  const shown = fixed(Math.abs(difference), decimals);
  const compared = difference < 0 ? words.less(shown) : difference > 0 ? words.more(shown) : words.same;
  const { id, version } = calibration;
  return (
    <>
      <ExplanationPanel calibrationId={id} version={version} of={{ trial: trial.number, number: 'volume' }} />
      <UnfoldingOf calibrationId={id} version={version}>
        <p>
          <Unfold of={{ trial: trial.number, number: 'simpleVolume' }}>
            {words.simpleIs(fixed(trial.simpleVolumeMl, decimals))}
          </Unfold>
          {compared}
        </p>
      </UnfoldingOf>
    </>
  );
}
