import { useEffect, useMemo, useState } from 'react';
import { useSearchParams } from 'wouter';
import type { Calibration, PointOnWire } from '../../server/calibrations/contract.ts';
import { findTolerance, rowOf } from '../../server/metrology/tolerance.ts';
import { text } from '../messages/en.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { benchText, entryText } from '../messages/en-bench.ts';
import type { OutboxEntry } from '../outbox.ts';
import { Button } from '../parts/button.tsx';
import { ForBench } from '../parts/for-bench.tsx';
import { Loaded } from '../parts/loading.tsx';
import { Notice } from '../parts/notice.tsx';
import { PageHeader } from '../parts/page.tsx';
import { decimalsForTolerance, fixed } from '../parts/rounding.ts';
import { useCalibration, useTolerances } from '../queries.ts';
import { toleranceRowsOf } from '../tolerance-rows.ts';
import { useOutbox } from '../use-outbox.ts';
import { Air } from './bench/air.tsx';
import { EntryForm } from './bench/entry-form.tsx';
import { PointResult } from './bench/point-result.tsx';
import { volumesOf } from './bench/live.ts';
import { isAtPoint, recordOf } from './bench/record.ts';
import { Announcer } from './bench/announcer.tsx';
import { Side } from './bench/side.tsx';
import { TrialTable } from './bench/trial-table.tsx';
import { NextSheet, useFirstCell } from './bench/next-sheet.tsx';
import { useEntry } from './bench/use-entry.ts';
import { useReceiver } from './bench/use-receiver.ts';
import { useLivePoints } from './bench/use-evaluation.ts';
import './bench.css';

const words = benchText;

/** One calibration at the balance: two numbers a trial, the strip moving as they are typed. */
export default function BenchPage({ id }: { id: string }) {
  const calibration = useCalibration(id);
  return (
    <Loaded query={calibration} what={words.what}>
      {(loaded) => <Bench calibration={loaded} />}
    </Loaded>
  );
}

function Bench({ calibration }: { calibration: Calibration }) {
  const [pointMl, setChosen] = usePoint(calibration);
  const table = useTolerances(calibration.vessel.kind);
  const rows = useMemo(() => toleranceRowsOf(table.data?.items ?? []), [table.data]);
  const row = useMemo(() => rowOf(findTolerance(rows, calibration.vessel)), [rows, calibration.vessel]);
  const record = useMemo(() => recordOf(calibration), [calibration]);
  const [receiver, setReceiver] = useReceiver(calibration);
  const entry = useEntry({ calibration, record, row, pointMl, way: receiver?.way ?? null });
  const { storageFails } = useOutbox();
  const isOpen = calibration.state === 'open';
  const isKeepable = entry.live.result !== null && entry.live.questions.length === 0;
  const points = useLivePoints({
    calibration,
    record,
    rows,
    pending: entry.onTheWay,
    typed: isKeepable ? entry.body : null,
    isNeeded: entry.body !== null || entry.onTheWay.length > 0,
  });
  const pendingVolumes = useMemo(() => volumesOf(record, entry.pending, row), [record, entry.pending, row]);
  const pendingMl = useVolumesAt(pointMl, entry.onTheWay, pendingVolumes);
  const stored = pointOf(calibration.points, pointMl);
  const shown = pointOf(points, pointMl);
  const typedMl = entry.isTouched ? (entry.live.result?.volumeMl ?? null) : null;
  return (
    <div className="bench">
      <BenchHeader calibration={calibration} point={stored} />
      <div className="bench-main">
        {calibration.plannedPoints.length > 1 && (
          <PointTabs calibration={calibration} pointMl={pointMl} onChoose={setChosen} />
        )}
        <PointResult
          calibration={calibration}
          point={shown}
          pendingMl={pendingMl}
          typedMl={typedMl}
          isWithTyped={isKeepable && entry.isTouched}
        />
        {storageFails && <Notice tone="strong">{entryText.storageFails}</Notice>}
        <EntryPlace
          calibration={calibration}
          entry={entry}
          isBeyondPlan={stored.n >= calibration.plannedTrials}
          row={row}
          receiver={receiver}
          onReceiver={setReceiver}
        />
        {isOpen && <NextPoint calibration={calibration} pointMl={pointMl} onChoose={setChosen} />}
        <TrialTable
          calibration={calibration}
          pointMl={pointMl}
          pending={entry.pending}
          pendingVolumes={pendingVolumes}
          onTakeBack={(failed) => {
            setChosen(failed.pointMl);
            entry.takeBack(failed);
          }}
        />
        <NextSheet origin={calibration.origin} />
      </div>
      <Side
        calibration={calibration}
        point={stored}
        unsent={entry.pending.filter((one) => one.state !== 'saved').length}
      />
      <Announcer pending={entry.pending} />
    </div>
  );
}

/** Volumes of the trials on their way at one point; the same list until one of them changes. */
function useVolumesAt(pointMl: string, onTheWay: readonly OutboxEntry[], volumes: ReadonlyMap<string, number>) {
  return useMemo(
    () => onTheWay.filter((one) => isAtPoint(pointMl, one)).flatMap((one) => volumes.get(one.id) ?? []),
    [onTheWay, volumes, pointMl],
  );
}

/** Fields while the calibration is open; whoever only reads sees none. */
function EntryPlace(props: Parameters<typeof EntryForm>[0]) {
  useFirstCell(['emptyG', 'filledG', 'waterTemperatureC']);
  if (props.calibration.state !== 'open') return null;
  return (
    <ForBench>
      <EntryForm {...props} />
    </ForBench>
  );
}

/** The point that was chosen, at first the one named in the address; else the first that is not finished. */
function usePoint(calibration: Calibration): [pointMl: string, choose: (pointMl: string) => void] {
  const [search] = useSearchParams();
  const [chosen, setChosen] = useState(search.get('point'));
  const known = chosen === null ? undefined : calibration.points.find((one) => isAtPoint(chosen, one));
  return [known?.pointMl ?? firstUnfinished(calibration), setChosen];
}

/** The first point that has fewer trials than planned; with none, the last. */
function firstUnfinished(calibration: Calibration): string {
  const unfinished = calibration.points.find((point) => point.n < calibration.plannedTrials);
  return (unfinished ?? calibration.points.at(-1))?.pointMl ?? calibration.plannedPoints[0] ?? '';
}

function pointOf(points: readonly PointOnWire[], pointMl: string): PointOnWire {
  const point = points.find((one) => isAtPoint(pointMl, one)) ?? points[0];
  if (!point) throw new Error('A calibration has at least one point.');
  return point;
}

function BenchHeader({ calibration, point }: { calibration: Calibration; point: PointOnWire }) {
  const { vessel } = calibration;
  const tolerance =
    point.toleranceMl === null
      ? vesselText.noTolerance
      : vesselText.tolerance(fixed(point.toleranceMl, decimalsForTolerance(point.toleranceMl)));
  const toleranceClass = vessel.tolerance?.class;
  return (
    <div className="bench-head">
      <PageHeader
        title={vessel.tag}
        documentTitle={words.title(vessel.tag)}
        within={{
          href: `/glassware/${vessel.id}`,
          label: vesselText.what(vessel.nominalVolumeMl, text.words.vesselKinds[vessel.kind]),
        }}
        lead={[
          text.words.bases[calibration.basis],
          `${vessel.referenceTemperatureC} °C`,
          ...(toleranceClass && toleranceClass !== '-' ? [vesselText.class(toleranceClass)] : []),
          tolerance,
          ...(calibration.origin === null ? [] : [text.words.origins[calibration.origin]]),
        ].join(' · ')}
      />
      <Air
        read={calibration}
        isOpen={calibration.state === 'open' && calibration.origin === null}
        path={`/api/calibrations/${calibration.id}/conditions`}
      />
    </div>
  );
}

interface PointTabsProps {
  calibration: Calibration;
  pointMl: string;
  onChoose: (pointMl: string) => void;
}

function PointTabs({ calibration, pointMl, onChoose }: PointTabsProps) {
  return (
    <div className="point-tabs" role="group" aria-label={words.points}>
      {calibration.points.map((point) => (
        <Button
          key={point.pointMl}
          bench
          aria-current={isAtPoint(pointMl, point) ? 'true' : undefined}
          onClick={() => onChoose(point.pointMl)}
        >
          {words.pointProgress(point.pointMl, point.n, calibration.plannedTrials)}
        </Button>
      ))}
    </div>
  );
}

/** When a point has its trials, the next one is offered; nothing moves by itself. */
function NextPoint({ calibration, pointMl, onChoose }: PointTabsProps) {
  const here = calibration.points.find((point) => isAtPoint(pointMl, point));
  const next = calibration.points.find((point) => point.n < calibration.plannedTrials);
  const isDone = here !== undefined && here.n >= calibration.plannedTrials;
  useEffect(() => {
    // Stays at a point that has just become full, instead of jumping on.
    if (isDone) onChoose(pointMl);
  }, [isDone, pointMl, onChoose]);
  if (!isDone || !next) return null;
  return (
    <div className="row">
      <Button look="primary" bench onClick={() => onChoose(next.pointMl)}>
        {words.nextPoint(next.pointMl)}
      </Button>
    </div>
  );
}
