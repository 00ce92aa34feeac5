import type { Calibration } from '../../../server/calibrations/contract.ts';
import type { EmptySource } from '../../../server/metrology/record.ts';
import { entryText } from '../../messages/en-bench.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import { Choice, Field, Select, TextArea, Tick } from '../../parts/field.tsx';
import type { Entry } from './use-entry.ts';

const words = entryText;
/** A usual half-width for a temperature that nobody read, °C; changed by whoever knows better. */
const USUAL_HALF_WIDTH_C = '0.5';

interface EntryMoreProps {
  calibration: Calibration;
  entry: Entry;
  isBeyondPlan: boolean;
}

/** Where the empty reading comes from, and what belongs to one trial only. */
export function EntryMore({ calibration, entry, isBeyondPlan }: EntryMoreProps) {
  const { typed } = entry.entry;
  const { problems } = entry.asked;
  const isDelivering = calibration.basis === 'deliver';
  const openTime = (
    <Field
      name="openTimeS"
      label={words.openTime}
      unit="s"
      number
      optional
      value={typed.openTimeS}
      problem={problems.openTimeS}
      onChange={(openTimeS) => entry.type({ openTimeS })}
    />
  );
  return (
    <div className="entry-more">
      <EmptySourceField entry={entry} isDelivering={isDelivering} />
      <details className="unfold">
        <summary>{words.more}</summary>
        <div className="stack">
          <AssumedTemperature entry={entry} />
          {!isDelivering && (
            <Choice
              name="emptyState"
              label={words.emptyState}
              value={typed.emptyState === '' ? 'none' : typed.emptyState}
              options={[
                { value: 'none', label: words.notStated },
                { value: 'dry', label: words.emptyStates.dry },
                { value: 'drained', label: words.emptyStates.drained },
              ]}
              onChange={(emptyState) => entry.type({ emptyState: emptyState === 'none' ? '' : emptyState })}
            />
          )}
          {openTime}
          {!isBeyondPlan && (
            <TextArea
              name="note"
              label={words.note}
              optional
              rows={2}
              value={typed.note}
              onChange={(note) => entry.type({ note })}
            />
          )}
        </div>
      </details>
    </div>
  );
}

function EmptySourceField({ entry, isDelivering }: { entry: Entry; isDelivering: boolean }) {
  const { reused, carried } = entry.takenOver;
  const options: { value: EmptySource; label: string }[] = [
    { value: 'own', label: isDelivering ? deliveryText.beforeOwn : words.emptyOwn },
    ...(reused && !isDelivering
      ? [{ value: 'reused' as const, label: words.emptyReused(reused.number, reused.emptyG) }]
      : []),
    ...(carried ? [{ value: 'carried' as const, label: words.emptyCarried(carried.number, carried.filledG) }] : []),
    { value: 'tared', label: words.emptyTared },
  ];
  return (
    <Select
      name="emptySource"
      label={isDelivering ? deliveryText.readingBefore : words.emptyIs}
      value={entry.entry.typed.emptySource}
      options={options}
      onChange={(source) => source && entry.setSource(source)}
    />
  );
}

function AssumedTemperature({ entry }: { entry: Entry }) {
  const { isAssumed, waterTemperatureHalfWidthC } = entry.entry.typed;
  return (
    <div className="stack tight">
      <Tick
        name="assumed"
        label={words.assumed}
        checked={isAssumed}
        onChange={(isNowAssumed) =>
          entry.type({
            isAssumed: isNowAssumed,
            waterTemperatureHalfWidthC: waterTemperatureHalfWidthC || USUAL_HALF_WIDTH_C,
          })
        }
      />
      {isAssumed && (
        <Field
          name="waterTemperatureHalfWidthC"
          label={words.halfWidth}
          help={words.halfWidthHelp}
          unit="°C"
          number
          value={waterTemperatureHalfWidthC}
          problem={entry.asked.problems.waterTemperatureHalfWidthC}
          onChange={(value) => entry.type({ waterTemperatureHalfWidthC: value })}
        />
      )}
    </div>
  );
}
