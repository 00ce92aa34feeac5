import { useLocation } from 'wouter';
import type { SeriesReply } from '../../../server/solutions/contract-choice.ts';
import { seriesText as words } from '../../messages/en-choose.ts';
import { Button } from '../../parts/button.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { decimalsForUncertainty, fixed, significant } from '../../parts/rounding.ts';
import type { PlannedStock } from './series-stock.ts';

type Planned = SeriesReply['solutions'][number];
type Step = Planned['steps'][number];

/** `2 × 5 mL (P-3) into F-12`: deliveries of one vessel counted together. */
function stepWords({ deliveries, madeUpIn }: Step): string {
  const counted = new Map<string, { pointMl: string; tag: string; times: number }>();
  for (const { vesselId, pointMl, tag } of deliveries) {
    const before = counted.get(vesselId);
    counted.set(vesselId, { pointMl, tag, times: (before?.times ?? 0) + 1 });
  }
  const parts = [...counted.values()].map(({ pointMl, tag, times }) => words.delivery(pointMl, tag, times));
  return words.step(parts.join(words.and), `${madeUpIn.pointMl} mL (${madeUpIn.tag})`);
}

/** Steps a solution adds to the one it starts from. */
const ownSteps = (plan: SeriesReply, { steps, from }: Planned): Step[] =>
  from === null ? steps : steps.slice(plan.solutions[from]?.steps.length ?? 0);

/** Each concentration with its steps; any of them can be gone on with as a dilution. */
export function SeriesPlan({ plan, stock }: { plan: SeriesReply; stock: PlannedStock }) {
  const { columns } = words;
  if (plan.pipettes === 0 || plan.flasks === 0) return <p className="quiet">{words.noWare}</p>;
  return (
    <>
      <div className="table-box" role="region" aria-label={words.caption} tabIndex={0}>
        <table className="table">
          <caption className="unseen">{words.caption}</caption>
          <thead>
            <tr>
              <th scope="col" className="number">
                {columns.wanted}
              </th>
              <th scope="col">{columns.how}</th>
              <th scope="col" className="number">
                {columns.result}
              </th>
              <th scope="col" className="number">
                {columns.relative}
              </th>
              <td />
            </tr>
          </thead>
          <tbody>
            {plan.solutions.map((solution) => (
              <PlanRow key={solution.target} plan={plan} solution={solution} stock={stock} />
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet small">{words.ware(plan.pipettes, plan.flasks)}</p>
    </>
  );
}

function PlanRow({ plan, solution, stock }: { plan: SeriesReply; solution: Planned; stock: PlannedStock }) {
  const [, go] = useLocation();
  const { target, steps, from, value, combinedUncertainty, relativePercent } = solution;
  const source = from === null ? words.fromStock : words.fromSolution(plan.solutions[from]?.target ?? '');
  const goOn = (): void =>
    go('/dilution', {
      state: {
        title: `${stock.name} ${target} ${stock.unit}`,
        stock,
        steps: steps.map(({ deliveries, madeUpIn }) => ({
          deliveries: deliveries.map(({ vesselId, pointMl }) => ({ vesselId, pointMl })),
          madeUpIn: { vesselId: madeUpIn.vesselId },
        })),
      },
    });
  return (
    <tr>
      <th scope="row" className="number">
        <Quantity value={target} unit={plan.stock.unit} />
      </th>
      <td>
        {steps.length === 0 ? (
          <span className="quiet">{words.impossible}</span>
        ) : (
          <ol className="plain series-steps">
            {ownSteps(plan, solution).map((step, index) => (
              <li key={index}>
                {stepWords(step)} {index === 0 && <span className="quiet">{source}</span>}
              </li>
            ))}
          </ol>
        )}
      </td>
      <td className="number">
        {value !== null && combinedUncertainty !== null && (
          <Quantity value={fixed(value, decimalsForUncertainty(2 * combinedUncertainty))} unit={plan.stock.unit} />
        )}
      </td>
      <td className="number">
        {relativePercent !== null && <Quantity value={significant(2 * relativePercent, 2)} unit="%" />}
      </td>
      <td>{steps.length > 0 && <Button onClick={goOn}>{words.carryOver}</Button>}</td>
    </tr>
  );
}
