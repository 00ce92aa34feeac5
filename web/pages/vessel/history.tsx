import { Fragment, Suspense, useId, useMemo, useState } from 'react';
import { Link } from 'wouter';
import type { CalibrationSummary } from '../../../server/glassware/contract.ts';
import { text } from '../../messages/en.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { decimalsOfPoint } from '../../parts/point-figures.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { fixed } from '../../parts/rounding.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import { VerdictMark } from '../../parts/verdict.tsx';
import { UnfoldButton } from '../../parts/unfold.tsx';
import { stripOf } from '../../summaries.ts';
import { later } from '../../parts/later.tsx';

const ExplanationPanel = later(() => import('../../parts/explanation-tree.tsx'));
const COLUMNS = 5;

type Point = CalibrationSummary['points'][number];

/** Every calibration of a vessel, one strip for each test point. */
export function History({ calibrations }: { calibrations: readonly CalibrationSummary[] }) {
  const words = vesselText.columns;
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={vesselText.history}>
      <table className="table history">
        <caption>{vesselText.historyCaption}</caption>
        <thead>
          <tr>
            <th scope="col">{words.day}</th>
            <th scope="col">{words.verdict}</th>
            <th scope="col" className="history-strip">
              {words.result}
            </th>
            <th scope="col" className="number">
              {words.mean}
            </th>
            <th scope="col" className="number">
              {words.trials}
            </th>
          </tr>
        </thead>
        {calibrations.map((calibration) => (
          <tbody key={calibration.id}>
            {calibration.points.map((point, index) => (
              <Row key={point.pointMl} calibration={calibration} point={point} isFirst={index === 0} />
            ))}
          </tbody>
        ))}
      </table>
    </div>
  );
}

function Row({ calibration, point, isFirst }: { calibration: CalibrationSummary; point: Point; isFirst: boolean }) {
  const data = useMemo(() => stripOf(point), [point]);
  const several = calibration.points.length > 1;
  const [isOpen, setOpen] = useState(false);
  const detailId = useId();
  const of = { pointMl: point.pointMl, number: 'mean' as const };
  return (
    <Fragment>
      <tr>
        <th scope="row">
          {isFirst && (
            <>
              <Link href={`/bench/${calibration.id}`}>{calibration.performedOn}</Link>
              <span className="history-state">{text.words.states[calibration.state]}</span>
              {calibration.origin && <span className="history-state">{text.words.origins[calibration.origin]}</span>}
            </>
          )}
          {several && <span className="quiet small"> {vesselText.pointOf(point.pointMl)}</span>}
        </th>
        <td>
          <VerdictMark verdict={point.verdict} />
        </td>
        <td className="history-strip">
          <ToleranceStrip data={data} height={28} verdict={point.verdict} coverageFactor={point.coverageFactor} />
        </td>
        <td className="number">
          {point.meanMl !== null && (
            <UnfoldButton isOpen={isOpen} controls={detailId} onPress={() => setOpen(!isOpen)}>
              <Quantity value={fixed(point.meanMl, decimalsOfPoint(point))} unit="mL" />
            </UnfoldButton>
          )}
        </td>
        <td className="number">{vesselText.trialsOf(point.n, point.nRecorded)}</td>
      </tr>
      {isOpen && (
        <tr id={detailId}>
          <td colSpan={COLUMNS} className="history-opened">
            <Suspense fallback={null}>
              <ExplanationPanel calibrationId={calibration.id} version={`${point.n} ${point.meanMl}`} of={of} />
            </Suspense>
          </td>
        </tr>
      )}
    </Fragment>
  );
}
