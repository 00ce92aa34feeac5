import type { Crossed, NotCrossed } from '../../../server/metrology/class/crossed.ts';
import type { VarianceComponent } from '../../../server/metrology/class/one-way.ts';
import { numbersText } from '../../messages/en-numbers.ts';
import { Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/page.tsx';
import { significant } from '../../parts/rounding.ts';

const words = numbersText.crossed;

/** What hands and what vessels contribute, where every group filled every vessel. */
export function CrossedSection({ result }: { result: Crossed | NotCrossed }) {
  return (
    <Section title={words.title}>
      <p className="quiet measure">{words.lead}</p>
      {result.outcome === 'crossed' ? <Components result={result} /> : <Notice>{result.detail}</Notice>}
    </Section>
  );
}

function Components({ result }: { result: Crossed }) {
  const { hands, vessels, interaction, repeatability } = result.components;
  const lines: [string, VarianceComponent | null][] = [
    [words.hands, hands],
    [words.vessels, vessels],
    [words.interaction, interaction],
    [words.repeatability, repeatability],
  ];
  return (
    <>
      <p>
        <strong>{hands.varianceMl2 > vessels.varianceMl2 ? words.handsMore : words.vesselsMore}</strong>
      </p>
      <div className="table-box" tabIndex={0} role="region" aria-label={words.title}>
        <table className="table">
          <caption className="unseen">{words.title}</caption>
          <thead>
            <tr>
              <th scope="col">{words.component}</th>
              <th scope="col">{words.value}</th>
            </tr>
          </thead>
          <tbody>
            {lines.map(([name, component]) =>
              component === null ? null : (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  <td className="number">
                    {component.negative ? `0 (${words.negative})` : significant(component.sdMl, 2)}
                  </td>
                </tr>
              ),
            )}
          </tbody>
        </table>
      </div>
    </>
  );
}
