import { type CSSProperties, Fragment, useMemo } from 'react';
import type { Round } from '../../../server/lots/contract-round.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import { gridText } from '../../messages/en-lots.ts';
import { useMay } from '../../session.ts';
import { AllLookedOver } from './grid-inspection.tsx';
import type { GridField } from './grid-order.ts';
import { taskOf, type VesselTask } from './grid-record.ts';
import { GridRowView } from './grid-row.tsx';
import type { GridRow } from './grid-rows.ts';
import type { Grid } from './use-grid.ts';

const words = gridText;

const BENCH_FIELDS: readonly GridField[] = ['emptyG', 'filledG'];
const SHEET_FIELDS: readonly GridField[] = [...BENCH_FIELDS, 'waterTemperatureC'];

interface GridTableProps {
  round: Round;
  pointMl: string;
  tolerances: readonly ToleranceRow[];
  grid: Grid;
}

/** Vessels down, trials across, the result at the end of each row. */
export function GridTable({ round, pointMl, tolerances, grid }: GridTableProps) {
  const may = useMay();
  const canType = may('bench');
  const taskFor = useTasks(round, tolerances);
  const fields = round.origin === 'sheet' ? SHEET_FIELDS : BENCH_FIELDS;
  const slots = Math.max(round.plannedTrials, ...grid.rows.map((row) => row.slots.length));
  return (
    <>
      {canType && <AllLookedOver round={round} />}
      <div className="table-box round-grid" role="region" aria-label={words.grid} tabIndex={0}>
        <table
          className={`table grid${fields === SHEET_FIELDS ? ' grid-sheet' : ''}`}
          style={{ '--slots': slots } as CSSProperties}
        >
          <caption className="unseen">{words.caption}</caption>
          <thead>
            <tr>
              <th scope="col" rowSpan={2} className="grid-vessel">
                {words.vessel}
              </th>
              {Array.from({ length: slots }, (_, slot) => (
                <th key={slot} scope="colgroup" colSpan={fields.length} className="grid-trial">
                  {words.trial(slot + 1)}
                </th>
              ))}
              <th scope="col" rowSpan={2} className="grid-result">
                {words.result}
              </th>
            </tr>
            <tr>
              {Array.from({ length: slots }, (_, slot) => (
                <Fragment key={slot}>
                  <th scope="col" className="grid-trial">
                    {words.empty}
                  </th>
                  <th scope="col">{words.filled}</th>
                  {fields.length > 2 && <th scope="col">{words.waterOfTrial}</th>}
                </Fragment>
              ))}
            </tr>
          </thead>
          <tbody>
            {grid.rows.map((row, index) => (
              <GridRowView
                key={row.row.calibrationId}
                decisionRule={round.decisionRule}
                plannedTrials={round.plannedTrials}
                pointMl={pointMl}
                task={taskFor(row)}
                index={index}
                row={row}
                slots={slots}
                fields={fields}
                acts={grid.acts}
                asked={grid.asked}
                canType={canType}
              />
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet small">{round.origin === 'sheet' ? words.sheetKeys : words.keys}</p>
    </>
  );
}

/** What each vessel is computed with; the same object while neither vessel nor round changes. */
function useTasks(round: Round, tolerances: readonly ToleranceRow[]): (row: GridRow) => VesselTask {
  const { conditions, conditionReadings, instrumentFacts } = round;
  return useMemo(() => {
    const known = new WeakMap<object, VesselTask>();
    return (row: GridRow) => {
      const task = known.get(row.row.vessel) ?? taskOf(round, row, tolerances);
      known.set(row.row.vessel, task);
      return task;
    };
    // Of the round a task takes nothing that changes but these.
  }, [conditions, conditionReadings, instrumentFacts, tolerances]);
}
