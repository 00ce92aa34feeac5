import { useQuery } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import { Link } from 'wouter';
import type { VesselOverTime, VesselPointOverTime } from '../../../server/over-time/contract.ts';
import { get } from '../../api.ts';
import { chartText, overTimeText } from '../../messages/en-over-time.ts';
import { Select } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { OverTimeChart } from '../../parts/over-time-chart.tsx';
import { Section } from '../../parts/page.tsx';
import { decimalsForUncertainty, fixed, signed, significant } from '../../parts/rounding.ts';
import { VerdictMark } from '../../parts/verdict.tsx';
import { keys } from '../../queries.ts';
import type { OverTimeData, PointMark } from '../../plots/over-time.ts';
import { OutsideLaboratory } from './outside-laboratory.tsx';

const words = overTimeText;
const MS_PER_DAY = 86_400_000;
const dayOf = (iso: string): number => Date.parse(`${iso}T00:00:00Z`) / MS_PER_DAY;

interface OverTimeProps {
  vesselId: string;
  /** As the register has it; null: the laboratory's. */
  intervalMonths: number | null;
}

/** How a vessel has kept its volume: chart, change, trend, and when to look again. */
export default function OverTime({ vesselId, intervalMonths }: OverTimeProps) {
  const query = useQuery({
    queryKey: [...keys.vessel(vesselId), 'over-time'],
    queryFn: ({ signal }) => get<VesselOverTime>(`/api/vessels/${vesselId}/over-time`, signal),
  });
  return (
    <Section title={words.title}>
      <Loaded query={query} what={words.what}>
        {(seen) => <Seen seen={seen} intervalMonths={intervalMonths} />}
      </Loaded>
    </Section>
  );
}

function Seen({ seen, intervalMonths }: { seen: VesselOverTime; intervalMonths: number | null }) {
  const [chosen, setChosen] = useState('');
  const measured = seen.points.filter(({ calibrations }) => calibrations.length > 0);
  const point = measured.find(({ pointMl }) => pointMl === chosen) ?? measured[0];
  const leftOut = seen.leftOut > 0 && <p className="quiet small">{words.leftOut(seen.leftOut)}</p>;
  if (!point)
    return (
      <>
        <p className="quiet">{words.none}</p>
        {leftOut}
      </>
    );
  return (
    <div className="stack">
      {measured.length > 1 && (
        <Select
          name="over-time-point"
          label={words.point}
          value={point.pointMl}
          options={measured.map(({ pointMl }) => ({ value: pointMl, label: `${pointMl} mL` }))}
          onChange={setChosen}
        />
      )}
      <Chart point={point} />
      <div className="over-time-words">
        <section className="stack tight">
          <p>{changeWords(point)}</p>
          <p>{trendWords(point)}</p>
          <details className="unfold">
            <summary>{words.columns.explained}</summary>
            <p className="quiet small measure">{words.change.explain}</p>
          </details>
        </section>
        <Interval interval={seen.interval} intervalMonths={intervalMonths} />
      </div>
      {leftOut}
      <OutsideLaboratory point={point} />
    </div>
  );
}

const MARKS: Partial<Record<string, PointMark>> = {
  pass: 'pass',
  'conditional-pass': 'conditional',
  'conditional-fail': 'conditional',
  fail: 'fail',
  'not-decidable': 'undecided',
};

/** One more digit than the smallest U is told with would say nothing. */
const decimalsOf = ({ calibrations }: VesselPointOverTime): number =>
  Math.max(...calibrations.map(({ expandedUncertaintyMl }) => decimalsForUncertainty(expandedUncertaintyMl)));

function chartData(point: VesselPointOverTime): OverTimeData {
  const nominalMl = Number(point.pointMl);
  const { toleranceMl, trend } = point;
  return {
    points: point.calibrations.map(({ performedOn, meanMl, expandedUncertaintyMl, verdict }) => ({
      at: dayOf(performedOn),
      value: meanMl,
      halfWidth: expandedUncertaintyMl,
      mark: MARKS[verdict ?? ''] ?? 'plain',
    })),
    band: toleranceMl === null ? null : { low: nominalMl - toleranceMl, high: nominalMl + toleranceMl },
    centre: nominalMl,
    trend: trend?.significant
      ? trend.band.map(({ day, lineMl, lowMl, highMl }) => ({ at: dayOf(day), line: lineMl, low: lowMl, high: highMl }))
      : [],
    leavesAt: trend?.leavesOn == null ? null : dayOf(trend.leavesOn),
    axis: 'days',
    decimals: decimalsOf(point),
  };
}

function Chart({ point }: { point: VesselPointOverTime }) {
  const data = useMemo(() => chartData(point), [point]);
  const legend = [chartText.legend, ...(data.trend.length > 0 ? [chartText.legendTrend] : [])].join(' ');
  return (
    <OverTimeChart
      data={data}
      sentence={words.sentence(point.calibrations.length, point.pointMl)}
      yLabel={chartText.axisMl}
      xLabel={chartText.days}
      legend={legend}
    >
      <Numbers point={point} />
    </OverTimeChart>
  );
}

function Numbers({ point }: { point: VesselPointOverTime }) {
  const decimals = decimalsOf(point);
  const { columns } = words;
  return (
    <div
      className="table-box"
      tabIndex={0}
      role="region"
      aria-label={words.sentence(point.calibrations.length, point.pointMl)}
    >
      <table className="table">
        <thead>
          <tr>
            <th scope="col">{columns.day}</th>
            {[columns.mean, columns.uncertainty, columns.change, columns.normalised].map((column) => (
              <th key={column} scope="col" className="number">
                {column}
              </th>
            ))}
            <th scope="col">{columns.verdict}</th>
          </tr>
        </thead>
        <tbody>
          {[...point.calibrations].reverse().map((one) => (
            <tr key={one.id}>
              <th scope="row">
                <Link className="lone-link" href={`/bench/${one.id}`}>
                  {one.performedOn}
                </Link>
              </th>
              <td className="number">{fixed(one.meanMl, decimals)}</td>
              <td className="number">{fixed(one.expandedUncertaintyMl, decimals)}</td>
              <td className="number">{one.change === null ? '–' : signed(one.change.changeMl, decimals)}</td>
              <td className="number">
                {one.change?.normalisedChange == null ? '–' : signed(one.change.normalisedChange, 2)}
              </td>
              <td>
                <VerdictMark verdict={one.verdict} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function changeWords(point: VesselPointOverTime): string {
  const [before, last] = [point.calibrations.at(-2), point.calibrations.at(-1)];
  if (!last?.change || !before) return words.change.first;
  const { changeMl, normalisedChange } = last.change;
  const shown = signed(changeMl, decimalsOf(point));
  if (normalisedChange === null) return words.change.unknown(shown, before.performedOn);
  const isWithin = Math.abs(normalisedChange) <= 1;
  return (isWithin ? words.change.within : words.change.beyond)(shown, before.performedOn, signed(normalisedChange, 2));
}

function trendWords({ trend, calibrations, toleranceMl }: VesselPointOverTime): string {
  if (trend === null) return words.trend.tooFew(calibrations.length);
  const reach = significant(trend.slopeHalfWidthMlPerYear, 2);
  const slope = signed(trend.slopeMlPerYear, decimalsForUncertainty(trend.slopeHalfWidthMlPerYear));
  if (!trend.significant) return words.trend.none(slope, reach);
  const then =
    toleranceMl === null
      ? words.trend.noTolerance
      : trend.leavesOn === null
        ? words.trend.leavesNot
        : words.trend.leaves(trend.leavesOn);
  return `${words.trend.seen(slope, reach)} ${then}`;
}

function Interval({ interval, intervalMonths }: Pick<VesselOverTime, 'interval'> & { intervalMonths: number | null }) {
  return (
    <section className="stack tight" aria-label={words.interval.title}>
      <h3>{words.interval.title}</h3>
      <p>
        <strong>{words.interval.advice(interval.months, interval.nextOn)}</strong>{' '}
        {words.interval.reasons[interval.reason]}
        {interval.reason === 'kept' && ` ${words.interval.row(interval.goodInARow)}`}
      </p>
      <p className="quiet small">
        {words.interval.inForce(intervalMonths)} {words.interval.weakness}
      </p>
    </section>
  );
}
