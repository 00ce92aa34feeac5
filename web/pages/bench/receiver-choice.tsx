import type { Calibration } from '../../../server/calibrations/contract.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { fixed } from '../../parts/rounding.ts';
import { loadAfterNext, RECEIVER_WAYS, sourceOf, type Receiver } from './receiver.ts';
import type { Entry } from './use-entry.ts';

const words = deliveryText;

interface ReceiverChoiceProps {
  calibration: Calibration;
  entry: Entry;
  receiver: Receiver;
  onChange: (changes: Partial<Receiver>) => void;
}

/** How the receiver is weighed, for all trials that follow; and whether the balance still carries it. */
export function ReceiverChoice({ calibration, entry, receiver, onChange }: ReceiverChoiceProps) {
  return (
    <div className="stack tight">
      <Choice
        name="receiver"
        label={words.receiver}
        help={words.receiverHelp[receiver.way]}
        value={receiver.way}
        options={RECEIVER_WAYS.map((way) => ({ value: way, label: words.ways[way] }))}
        onChange={(way) => {
          onChange({ way });
          entry.setSource(sourceOf(way));
        }}
      />
      {receiver.way === 'cumulative' && (
        <Capacity calibration={calibration} entry={entry} receiver={receiver} onChange={onChange} />
      )}
    </div>
  );
}

function Capacity({ calibration, entry, receiver, onChange }: ReceiverChoiceProps) {
  const known = calibration.instrumentFacts.balance?.capacityG ?? null;
  const capacityG = known ?? receiver.capacityG;
  const standing = entry.takenOver.carried;
  const load = standing === null ? null : loadAfterNext(standing.filledG, entry.entry.pointMl, capacityG);
  const isCarried = entry.entry.typed.emptySource === 'carried';
  return (
    <>
      {known === null && (
        <Field
          name="capacityG"
          label={words.capacity}
          help={words.capacityHelp}
          unit="g"
          number
          optional
          value={receiver.capacityG}
          onChange={(typed) => onChange({ capacityG: typed })}
        />
      )}
      {load !== null && isCarried && load.isAbove && (
        <Notice tone="strong">
          <p>{words.tooHeavy(fixed(load.loadG, 0), capacityG)}</p>
          <Button bench onClick={() => entry.setSource('own')}>
            {words.weighAgain}
          </Button>
        </Notice>
      )}
      {load !== null && isCarried && !load.isAbove && (
        <p className="quiet small">{words.load(fixed(load.loadG, 0), capacityG)}</p>
      )}
    </>
  );
}
