import type { Experiment } from '../../../server/experiments/contract.ts';
import { runText as words, planText, teachingText } from '../../messages/en-teaching.ts';
import { KindMark } from '../../parts/kind-mark.tsx';
import { Section } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { decimalsForTolerance, fixed } from '../../parts/rounding.ts';

/** What the class measures, row by row. */
export function PlanSection({ experiment }: { experiment: Experiment }) {
  const { rows, balances, cautionNote, foresight, lessonMinutes } = experiment;
  return (
    <Section title={words.planTitle}>
      <div className="table-box" tabIndex={0} role="region" aria-label={words.planTitle}>
        <table className="table">
          <caption className="unseen">{words.planTitle}</caption>
          <thead>
            <tr>
              <th scope="col">{words.rowHead}</th>
              <th scope="col">{planText.nominal}</th>
              <th scope="col">{planText.basis}</th>
              <th scope="col">{words.limitHead}</th>
              <th scope="col">{words.trialsHead}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <th scope="row">
                  <span className="class-ware">
                    <KindMark kind={row.kind} /> {row.label}
                  </span>
                </th>
                <td className="number">
                  <Quantity value={row.nominalVolumeMl} unit="mL" />
                </td>
                <td>{teachingText.bases[row.basis]}</td>
                <td>
                  {row.toleranceMl === null ? (
                    <span className="quiet">{words.none}</span>
                  ) : (
                    <>
                      <Quantity value={`±${fixed(row.toleranceMl, decimalsForTolerance(row.toleranceMl))}`} unit="mL" />
                      <span className="quiet small"> {row.toleranceSource}</span>
                    </>
                  )}
                </td>
                <td className="number">{row.trialsPerGroup}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet">
        {planText.minutes(fixed(foresight.minutes, 0), lessonMinutes)} ·{' '}
        {balances.map(({ label, resolutionG }) => (resolutionG ? `${label} (${resolutionG} g)` : label)).join(', ')}
      </p>
      {cautionNote && <p className="measure class-own-caution">{cautionNote}</p>}
    </Section>
  );
}
