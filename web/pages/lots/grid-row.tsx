import { Fragment, memo, useMemo } from 'react';
import { Link } from 'wouter';
import type { Round } from '../../../server/lots/contract-round.ts';
import { text } from '../../messages/en.ts';
import { gridText } from '../../messages/en-lots.ts';
import { decimalsOfPoint } from '../../parts/point-figures.tsx';
import { fixed } from '../../parts/rounding.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import { VerdictMark } from '../../parts/verdict.tsx';
import { stripOf } from '../../summaries.ts';
import { isAtPoint } from '../bench/record.ts';
import { GridCell } from './grid-cell.tsx';
import { Damaged, LookedOver } from './grid-inspection.tsx';
import { GridQuestion } from './grid-question.tsx';
import type { GridField } from './grid-order.ts';
import { volumeOf, type VesselTask } from './grid-record.ts';
import type { GridRow, Slot } from './grid-rows.ts';
import { RefusedTrial } from './refused-trial.tsx';
import { OwnWater, useOwnWater } from './own-water.tsx';
import { SlotEnd, SlotWater } from './slot-end.tsx';
import type { Grid, GridActs, Place } from './use-grid.ts';

const words = gridText;
const CLASSES: Record<GridField, string> = {
  emptyG: 'grid-trial',
  filledG: 'grid-filled',
  waterTemperatureC: 'grid-water',
};

const labelOf = (field: GridField, slot: number): string =>
  field === 'emptyG'
    ? `${words.trial(slot + 1)}, ${words.empty}`
    : field === 'filledG'
      ? words.filled
      : words.waterOfTrial;

interface GridRowProps {
  decisionRule: Round['decisionRule'];
  plannedTrials: number;
  pointMl: string;
  task: VesselTask;
  index: number;
  row: GridRow;
  slots: number;
  /** Columns of each trial. */
  fields: readonly GridField[];
  acts: GridActs;
  /** Changes where something is asked; rows are drawn again for it. */
  asked: Grid['asked'];
  canType: boolean;
}

/** One vessel: looked over, its trials, its result; below it what is asked about one of them. */
export const GridRowView = memo(function GridRowView(props: GridRowProps) {
  const { index, row, slots, fields, acts, canType, task } = props;
  const { vessel, calibrationId, state } = row.row;
  const volumes = useMemo(
    () => row.slots.map((slot) => slot.saved?.volumeMl ?? (slot.entry ? volumeOf(task, slot.entry) : null)),
    [row.slots, task],
  );
  const ownWater = useOwnWater(acts);
  return (
    <>
      <tr className={row.isOpen ? undefined : 'grid-ended'}>
        <th scope="row">
          <Link className="lone-link" href={`~/bench/${calibrationId}`}>
            {vessel.tag}
          </Link>
          {row.isOpen ? (
            <div className="grid-look">
              <LookedOver row={row.row} canType={canType} />
              {canType && <Damaged row={row.row} />}
            </div>
          ) : (
            <span className="quiet small grid-aside">{words.ended[state]}</span>
          )}
        </th>
        {Array.from({ length: slots }, (_, slot) => (
          <Fragment key={slot}>
            {fields.map((field) => (
              <td key={field} className={CLASSES[field]} data-label={labelOf(field, slot)}>
                {row.slots[slot] && (
                  <TrialCell
                    place={{ row: index, slot, field }}
                    tag={vessel.tag}
                    acts={acts}
                    canType={canType}
                    slot={row.slots[slot]}
                    volumeMl={volumes[slot] ?? null}
                    ownWater={fields.length === 2 ? ownWater : null}
                  />
                )}
              </td>
            ))}
          </Fragment>
        ))}
        <td className="grid-result">
          <RowResult {...props} volumes={volumes} />
        </td>
      </tr>
      <BelowRow {...props} />
    </>
  );
});

/** What is asked or said about trials of the row. */
function BelowRow({ index, row, slots, fields, acts, canType }: GridRowProps) {
  const { tag } = row.row.vessel;
  const asked = row.slots.flatMap((_, slot) => {
    const found = acts.askedAt({ row: index, slot, field: 'filledG' });
    const entry = row.slots[slot]?.entry;
    return found && entry ? [{ slot, found, entry }] : [];
  });
  return (
    <>
      {asked.map(({ slot, found, entry }) => (
        <tr key={slot} className="grid-asked">
          <td colSpan={fields.length * slots + 2}>
            <GridQuestion
              place={{ row: index, slot, field: 'filledG' }}
              tag={tag}
              asked={found}
              entry={entry}
              acts={acts}
            />
          </td>
        </tr>
      ))}
      {row.slots.flatMap(({ refused }, slot) =>
        refused.map((entry) => (
          <tr key={entry.id} className="grid-asked">
            <td colSpan={fields.length * slots + 2}>
              <RefusedTrial
                tag={tag}
                slot={slot}
                entry={entry}
                onUseNext={row.isOpen && canType ? () => acts.takeForNext(index, entry) : null}
              />
            </td>
          </tr>
        )),
      )}
    </>
  );
}

interface TrialCellProps {
  place: Place;
  tag: string;
  acts: GridActs;
  canType: boolean;
  slot: Slot;
  volumeMl: number | null;
  /** Null on a sheet, where each trial has a cell for its water. */
  ownWater: ReturnType<typeof useOwnWater> | null;
}

/** A reading with what belongs below it: the water below the empty one, the volume below the filled one. */
function TrialCell({ place, tag, acts, canType, slot, volumeMl, ownWater }: TrialCellProps) {
  const open = ownWater && (() => ownWater.open(place));
  return (
    <>
      <GridCell place={place} tag={tag} acts={acts} canType={canType} onOwnWater={open ?? undefined} />
      {place.field === 'emptyG' && ownWater && <SlotWater slot={slot} />}
      {place.field === 'filledG' && <SlotEnd slot={slot} volumeMl={volumeMl} />}
      {place.field === 'filledG' && ownWater && canType && acts.isEditable(place) && (
        <OwnWater
          place={place}
          tag={tag}
          acts={acts}
          isOpen={ownWater.opened === place.slot}
          onOpen={() => ownWater.open(place)}
          onClose={ownWater.close}
        />
      )}
    </>
  );
}

const isPending = ({ saved, entry }: Slot): boolean =>
  saved === null && entry?.body != null && entry.state !== 'failed';

interface RowResultProps extends Pick<GridRowProps, 'decisionRule' | 'plannedTrials' | 'pointMl' | 'row'> {
  volumes: readonly (number | null)[];
}

/** The strip of the row: what the server has judged, with the volumes on their way as further dots. */
function RowResult({ decisionRule, plannedTrials, pointMl, row, volumes }: RowResultProps) {
  const point = row.row.summary.points.find((one) => isAtPoint(pointMl, one));
  const pending = row.slots.flatMap((slot, index) => (isPending(slot) ? (volumes[index] ?? []) : []));
  const data = useMemo(() => {
    if (!point) return null;
    const strip = stripOf(point, decisionRule === 'guarded');
    return { ...strip, volumesMl: [...strip.volumesMl, ...pending] };
  }, [point, decisionRule, pending.join()]);
  if (!point || !data) return null;
  if (data.volumesMl.length === 0 && point.nRecorded === 0)
    return <span className="quiet small">{row.isOpen ? words.noMean : ''}</span>;
  const decimals = decimalsOfPoint(point);
  return (
    <div className="grid-result-parts">
      <ToleranceStrip data={data} height={28} verdict={point.verdict} coverageFactor={point.coverageFactor} />
      <div className="row grid-said">
        <VerdictMark
          verdict={point.verdict}
          {...(row.isOpen && point.n < plannedTrials ? { aside: text.strip.soFar } : {})}
        />
        <span className="small grid-figures">
          {words.counted(point.n + pending.length, plannedTrials)}
          {point.meanMl !== null && ` · ${words.mean(fixed(point.meanMl, decimals))}`}
        </span>
      </div>
    </div>
  );
}
