/** An instrument over time: checks on a control chart, certificates, and what depended on it. */
import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { CheckChart, InstrumentOverTime } from '../../../server/over-time/contract.ts';
import { get } from '../../api.ts';
import { instrumentTimeText } from '../../messages/en-over-time.ts';
import { Loaded } from '../../parts/loading.tsx';
import { OverTimeChart } from '../../parts/over-time-chart.tsx';
import { Section } from '../../parts/page.tsx';
import { Opening } from '../../parts/result-checks.tsx';
import { decimalsForUncertainty, fixed, signed } from '../../parts/rounding.ts';
import { keys } from '../../queries.ts';
import type { OverTimeData } from '../../plots/over-time.ts';
import { Dependents } from './dependents.tsx';

const words = instrumentTimeText;

export default function InstrumentTime({ id }: { id: string }) {
  const query = useQuery({
    queryKey: [...keys.instruments, id, 'over-time'],
    queryFn: ({ signal }) => get<InstrumentOverTime>(`/api/instruments/${id}/over-time`, signal),
  });
  return (
    <>
      <Loaded query={query} what={words.what}>
        {(seen) => (
          <>
            {seen.charts.map((chart) => (
              <Section key={chart.referenceValue} title={words.chart(chart.referenceValue, chart.unit)}>
                <Checks chart={chart} />
              </Section>
            ))}
            <Section title={words.certificates}>
              <Certificates seen={seen} />
            </Section>
          </>
        )}
      </Loaded>
      <Section title={words.dependents}>
        <p className="quiet measure">{words.dependentsWhat}</p>
        <Opening title={words.dependentsOpen}>
          <Dependents id={id} />
        </Opening>
      </Section>
    </>
  );
}

type ChartStretch = CheckChart['stretches'][number];

/** Enough for the narrowest limits that are drawn. */
function decimalsOf({ stretches }: CheckChart): number {
  const ranges = stretches.flatMap(({ limits }) =>
    limits === null || limits.meanMovingRange === 0 ? [] : limits.meanMovingRange,
  );
  return decimalsForUncertainty(ranges.length === 0 ? 0 : Math.min(...ranges));
}

/** A stretch reaches half a step beyond its checks, to where the next begins. */
const edgeBefore = (place: number): number => place + 0.5;

function chartData(chart: CheckChart): OverTimeData {
  return {
    stretches: chart.stretches.map(({ first, count, limits }) => ({
      from: edgeBefore(first),
      to: edgeBefore(first + count),
      band: limits && { low: limits.low, high: limits.high },
      centre: limits && limits.centre,
    })),
    breaks: chart.stretches.flatMap(({ first, certificate }) =>
      certificate === null ? [] : [{ at: edgeBefore(first), label: certificate.on }],
    ),
    points: chart.checks.map(({ difference, outside, rangeOutside }, index) => ({
      at: index + 1,
      value: difference,
      halfWidth: null,
      mark: outside ? 'fail' : rangeOutside ? 'conditional' : 'plain',
    })),
    band: null,
    centre: null,
    trend: [],
    leavesAt: null,
    axis: 'order',
    decimals: decimalsOf(chart),
  };
}

function Checks({ chart }: { chart: CheckChart }) {
  const data = useMemo(() => chartData(chart), [chart]);
  const decimals = decimalsOf(chart);
  const outside = chart.checks.filter((check) => check.outside || check.rangeOutside).length;
  const shown = (value: number) => signed(value, decimals);
  const newest = chart.stretches.at(-1);
  const limits = newest?.limits ?? null;
  const says = [
    words.chartSentence(chart.checks.length, outside),
    ...(limits === null ? [] : [words.limits(shown(limits.centre), shown(limits.low), shown(limits.high), chart.unit)]),
  ];
  return (
    <div className="stack tight">
      <OverTimeChart
        data={data}
        sentence={[...says, ...begunWords(chart)].join(' ')}
        yLabel={words.difference(chart.unit)}
        xLabel={words.columns.number}
        marks={words.marks}
      >
        <CheckNumbers chart={chart} />
      </OverTimeChart>
      {newest && <Basis stretch={newest} />}
      {outside > 0 && <p>{words.outsideWhat}</p>}
    </div>
  );
}

const begunWords = ({ stretches }: CheckChart): string[] =>
  stretches.flatMap(({ certificate }) =>
    certificate === null ? [] : [words.begun(certificate.number, certificate.on)],
  );

/** Where the present limits come from, or what they still need. */
function Basis({ stretch: { certificate, count, limits } }: { stretch: ChartStretch }) {
  if (limits === null) return <p>{words.tooFew(count, certificate?.on ?? '')}</p>;
  return (
    <p className="quiet small">
      {certificate === null ? words.base(limits.base) : words.baseSince(limits.base, certificate.on)}{' '}
      {limits.isFirstGuess && words.firstGuess}
    </p>
  );
}

function CheckNumbers({ chart }: { chart: CheckChart }) {
  const decimals = decimalsOf(chart);
  const { columns } = words;
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={words.chart(chart.referenceValue, chart.unit)}>
      <table className="table">
        <thead>
          <tr>
            <th scope="col" className="number">
              {columns.number}
            </th>
            <th scope="col">{columns.day}</th>
            <th scope="col" className="number">
              {columns.difference}
            </th>
            <th scope="col" className="number">
              {columns.range}
            </th>
            <th scope="col">{columns.found}</th>
          </tr>
        </thead>
        <tbody>
          {chart.checks.map((check, index) => (
            <tr key={check.number}>
              <th scope="row" className="number">
                {index + 1}
              </th>
              <td>{check.performedOn}</td>
              <td className="number">{signed(check.difference, decimals)}</td>
              <td className="number">{check.movingRange === null ? '–' : fixed(check.movingRange, decimals)}</td>
              <td>{foundWords(chart, index)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** What a check was found to be; the first of a stretch names the certificate it follows. */
function foundWords({ checks, stretches }: CheckChart, index: number): string {
  const check = checks[index];
  const stretch = stretches.findLast(({ first }) => first <= index);
  const found = check?.outside ? words.outside : check?.rangeOutside ? words.jump : words.inside;
  const since = stretch?.first === index && stretch.certificate !== null ? stretch.certificate.on : null;
  return [stretch?.limits ? found : '–', ...(since === null ? [] : [words.certificateOf(since)])].join(' · ');
}

function Certificates({ seen }: { seen: InstrumentOverTime }) {
  const columns = words.certificateColumns;
  if (seen.certificates.length === 0) return <p className="quiet">{words.certificatesNone}</p>;
  return (
    <>
      <div className="table-box" tabIndex={0} role="region" aria-label={words.certificates}>
        <table className="table">
          <thead>
            <tr>
              {[columns.number, columns.on, columns.due].map((column) => (
                <th key={column} scope="col">
                  {column}
                </th>
              ))}
              <th scope="col" className="number">
                {columns.uncertainty}
              </th>
              <th scope="col">{columns.drift}</th>
            </tr>
          </thead>
          <tbody>
            {seen.certificates.map((one) => (
              <tr key={one.version}>
                <th scope="row">{one.number ?? '–'}</th>
                <td className="day">{one.on ?? '–'}</td>
                <td className="day">{one.dueOn ?? '–'}</td>
                <td className="number">
                  {one.expandedUncertainty === null ? '–' : `${one.expandedUncertainty} ${seen.unit}`}
                </td>
                <td>{driftWords(one.drift, seen.unit)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet small">{words.outOfService}</p>
    </>
  );
}

function driftWords(drift: InstrumentOverTime['certificates'][number]['drift'], unit: string): string {
  const known = drift.flatMap(({ at, change }) =>
    change === null ? [] : [words.driftAt(signed(change, decimalsForUncertainty(Math.abs(change))), String(at), unit)],
  );
  return known.length === 0 ? words.driftUnknown : known.join(', ');
}
