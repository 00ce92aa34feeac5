import type { KeyboardEvent } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import { deliveryLimitsS } from '../../../server/metrology/delivery-times.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance-row.ts';
import { requiredWaitS } from '../../../server/metrology/trial-findings.ts';
import { cautionsText } from '../../messages/en-cautions.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { Button } from '../../parts/button.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Caution } from '../../parts/notice.tsx';
import { standingOf, TIMING_KEY, type Timed } from './timing.ts';
import type { Entry } from './use-entry.ts';
import { useTiming } from './use-timing.ts';
import './delivery.css';

const words = deliveryText;
const PIPETTES: ReadonlySet<string> = new Set(['single-volume-pipette', 'graduated-pipette']);

interface DeliveryProps {
  calibration: Calibration;
  entry: Entry;
  row: ToleranceRow | null;
  /** A timing has come to its end: on to the reading after. */
  onTimed: () => void;
  /** From a sheet: Enter in the last time. */
  onTimesTyped?: () => void;
}

/** How this delivery went: its times, the way the tip was held, and of piston pipettes which tip and channel. */
export default function Delivery(props: DeliveryProps) {
  const { calibration, entry } = props;
  const { kind, blowOut } = calibration.vessel;
  const isPiston = kind === 'piston-pipette';
  return (
    <section className="delivery" aria-label={words.title}>
      {PIPETTES.has(kind) && <Caution title={cautionsText.pipetteCaution}>{cautionsText.pipetteCautionWhat}</Caution>}
      {kind === 'burette' && <Caution title={cautionsText.buretteCaution}>{cautionsText.buretteCautionWhat}</Caution>}
      {blowOut !== null && <p>{words.lastDrop[blowOut ? 'yes' : 'no']}</p>}
      {!isPiston && <Times key={`${entry.entry.pointMl}/${entry.number}`} {...props} />}
      <div className="delivery-line">
        {isPiston && <TipFields calibration={calibration} entry={entry} />}
        <Position entry={entry} />
      </div>
    </section>
  );
}

const onEnter = (act: (() => void) | undefined) => (event: KeyboardEvent<HTMLInputElement>) => {
  if (!act || event.key !== 'Enter' || event.nativeEvent.isComposing) return;
  event.preventDefault();
  act();
};

/** One key for both times; what it wrote can be typed over. */
function Times({ calibration, entry, row, onTimed, onTimesTyped }: DeliveryProps) {
  const { typed, pointMl } = entry.entry;
  const { problems } = entry.asked;
  const required = requiredWaitS(calibration.vessel, row);
  const limits = deliveryLimitsS(row, Number(pointMl), Number(calibration.vessel.nominalVolumeMl));
  const write = (timed: Timed, isOver: boolean) => {
    entry.type(timed);
    if (isOver) onTimed();
  };
  return (
    <div className="delivery-line">
      <TimingKey waitS={required} isTimed={typed.deliveryTimeS !== ''} onTimed={write} />
      <Field
        name="deliveryTimeS"
        label={words.deliveryTime}
        unit="s"
        number
        optional
        help={
          limits === null || row === null
            ? words.noTimeKnown
            : [
                words.asked(String(limits.min), limits.max === undefined ? null : String(limits.max), standardOf(row)),
                standingWords(typed.deliveryTimeS, limits),
              ].join(' ')
        }
        value={typed.deliveryTimeS}
        problem={problems.deliveryTimeS}
        onKeyDown={onEnter(onTimesTyped && (() => document.getElementById('waitingTimeS')?.focus()))}
        onChange={(deliveryTimeS) => entry.type({ deliveryTimeS })}
      />
      <Field
        name="waitingTimeS"
        label={words.waitingTime}
        unit="s"
        number
        optional
        help={
          required === null || required === 0
            ? words.noWaitAsked
            : [words.waitAsked(String(required)), standingWords(typed.waitingTimeS, { min: required })].join(' ')
        }
        value={typed.waitingTimeS}
        problem={problems.waitingTimeS}
        onKeyDown={onEnter(onTimesTyped)}
        onChange={(waitingTimeS) => entry.type({ waitingTimeS })}
      />
    </div>
  );
}

/** The standard by name; whether anybody has seen its text. */
const standardOf = (row: ToleranceRow): string => {
  const name = vesselText.sourceTable(row.standard, row.edition, row.class);
  return row.readInStandard ? name : `${name} (${vesselText.notRead})`;
};

function standingWords(seconds: string, limits: { min: number; max?: number }): string {
  const standing = standingOf(seconds, limits);
  return standing === null ? '' : `${seconds} s: ${words.standing[standing]}.`;
}

interface TimingKeyProps {
  waitS: number | null;
  /** There is a time already, which another timing would replace. */
  isTimed: boolean;
  onTimed: (timed: Timed, isOver: boolean) => void;
}

function TimingKey({ waitS, isTimed, onTimed }: TimingKeyProps) {
  const waits = waitS !== null && waitS > 0;
  const { phase, seconds, press, drop } = useTiming(waits, onTimed);
  const name = { idle: isTimed ? words.startAgain : words.start, delivering: words.stop, waiting: words.stopWaiting }[
    phase
  ];
  return (
    <div className="timing" role="group" aria-label={words.timing}>
      <Button bench data-running={phase === 'idle' ? undefined : ''} aria-keyshortcuts={TIMING_KEY} onClick={press}>
        {name} <kbd>{TIMING_KEY}</kbd>
      </Button>
      {phase !== 'idle' && (
        <>
          <span role="timer" className="timing-now">
            {phase === 'delivering' ? words.delivering(seconds) : words.waiting(seconds, waits ? String(waitS) : null)}
          </span>
          <Button look="quiet" onClick={drop}>
            {words.dropTiming}
          </Button>
        </>
      )}
    </div>
  );
}

function Position({ entry }: { entry: Entry }) {
  const held = entry.entry.typed.drainPosition ?? '';
  // A trial sent by a program may say it in its own words; they are carried on like the others.
  const positions = held === '' || words.positions.includes(held) ? words.positions : [...words.positions, held];
  return (
    <Select
      name="drainPosition"
      label={words.position}
      none={words.positionNone}
      value={held}
      options={positions.map((position) => ({ value: position, label: position }))}
      onChange={(drainPosition) => entry.type({ drainPosition })}
    />
  );
}

function TipFields({ calibration, entry }: { calibration: Calibration; entry: Entry }) {
  const { channels } = calibration.vessel;
  const { tip = '', channel = '' } = entry.entry.typed;
  return (
    <>
      <Field
        name="tip"
        label={words.tip}
        help={words.tipHelp}
        width="medium"
        optional
        value={tip}
        problem={entry.asked.problems.tip}
        onChange={(typed) => entry.type({ tip: typed })}
      />
      {channels !== 1 && (
        <Field
          name="channel"
          label={words.channel}
          {...(channels === null ? {} : { help: words.channelOf(channels) })}
          inputMode="numeric"
          width="short"
          optional
          value={channel}
          problem={entry.asked.problems.channel}
          onChange={(typed) => entry.type({ channel: typed })}
        />
      )}
    </>
  );
}
