import { Link } from 'wouter';
import type { DistributionOnWire } from '../../server/over-time/contract.ts';
import { distributionText } from '../messages/en-over-time.ts';
import { decimalsForTolerance, decimalsForUncertainty, fixed, signed, significant } from './rounding.ts';
import { ToleranceStrip } from './tolerance-strip.tsx';
import { VerdictMark } from './verdict.tsx';

const words = distributionText;
const percent = (share: number): string => fixed(100 * share, 0);

interface DistributionProps {
  data: DistributionOnWire;
  /** Each vessel by name; false where the page lists them anyway. */
  hasList?: boolean;
}

/** Errors of several vessels side by side: one dot each against the tightest class, and who keeps which class. */
export function Distribution({ data, hasList = true }: DistributionProps) {
  const { summary, pieces } = data;
  if (summary === null) return <p className="quiet">{words.nothing}</p>;
  const nominalMl = Number(data.nominalVolumeMl);
  const decimals = Math.max(...pieces.map((piece) => decimalsForUncertainty(piece.expandedUncertaintyMl)));
  const volumesMl = pieces.map(({ biasMl }) => nominalMl + biasMl);
  const strip = {
    nominalMl,
    toleranceMl: summary.classes[0]?.toleranceMl ?? null,
    volumesMl,
    meanMl: nominalMl + summary.meanBiasMl,
  };
  return (
    <div className="stack">
      <p>
        {words.counted(pieces.length, data.vessels)} {data.lookedAt < data.vessels && words.newest(data.lookedAt)}{' '}
        {words.spread(
          signed(summary.meanBiasMl, decimals),
          summary.sdMl === null ? null : significant(summary.sdMl, 2),
          signed(summary.smallestMl, decimals),
          signed(summary.largestMl, decimals),
        )}
      </p>
      <ToleranceStrip data={strip} height={160} verdict={null} />
      {summary.classes.length > 0 && <Classes data={data} summary={summary} />}
      {hasList && (
        <details className="unfold">
          <summary>{words.vessels}</summary>
          <Pieces pieces={pieces} decimals={decimals} />
        </details>
      )}
    </div>
  );
}

type Summary = NonNullable<DistributionOnWire['summary']>;

function Classes({ data, summary }: { data: DistributionOnWire; summary: Summary }) {
  const { columns } = words;
  return (
    <>
      <div className="table-box" tabIndex={0} role="region" aria-label={data.standard ?? words.title}>
        <table className="table">
          <caption>{data.standard}</caption>
          <thead>
            <tr>
              <th scope="col">{columns.class}</th>
              {[columns.tolerance, columns.within, columns.share, columns.reach, columns.beyond].map((column) => (
                <th key={column} scope="col" className="number">
                  {column}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {summary.classes.map(({ class: name, toleranceMl, within, beyond }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td className="number">±{fixed(toleranceMl, decimalsForTolerance(toleranceMl))} mL</td>
                <td className="number">{words.within(within.count, within.of)}</td>
                <td className="number">{percent(within.share)} %</td>
                <td className="number">{words.reach(percent(within.low), percent(within.high))}</td>
                <td className="number">{beyond}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet small measure">{words.what95}</p>
    </>
  );
}

function Pieces({ pieces, decimals }: { pieces: DistributionOnWire['pieces']; decimals: number }) {
  const columns = words.vesselColumns;
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={words.vessels}>
      <table className="table">
        <thead>
          <tr>
            <th scope="col">{columns.tag}</th>
            <th scope="col">{columns.day}</th>
            <th scope="col" className="number">
              {columns.bias}
            </th>
            <th scope="col" className="number">
              {columns.uncertainty}
            </th>
            <th scope="col">{columns.verdict}</th>
          </tr>
        </thead>
        <tbody>
          {pieces.map((piece) => (
            <tr key={piece.vesselId}>
              <th scope="row">
                <Link className="lone-link" href={`~/glassware/${piece.vesselId}`}>
                  {piece.tag}
                </Link>
              </th>
              <td>{piece.performedOn}</td>
              <td className="number">{signed(piece.biasMl, decimals)}</td>
              <td className="number">{fixed(piece.expandedUncertaintyMl, decimals)}</td>
              <td>
                <VerdictMark verdict={piece.verdict} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
