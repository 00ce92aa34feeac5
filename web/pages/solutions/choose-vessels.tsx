import { Link } from 'wouter';
import type { ChoiceReply } from '../../../server/solutions/contract-choice.ts';
import { chooseText as words } from '../../messages/en-choose.ts';
import { text } from '../../messages/en.ts';
import { Quantity } from '../../parts/quantity.tsx';
import { decimalsForTolerance, decimalsForUncertainty, fixed, significant } from '../../parts/rounding.ts';

type Vessel = ChoiceReply['vessels'][number];

/** Vessels of the register in the order to take them, and pairs where none will do alone. */
export function ChosenVessels({ choice, volumeMl }: { choice: ChoiceReply; volumeMl: number }) {
  const { vessels, pairs, more } = choice;
  return (
    <div className="stack">
      {vessels.length === 0 ? (
        <p className="quiet">{words.none}</p>
      ) : (
        <div className="table-box" role="region" aria-label={words.caption} tabIndex={0}>
          <VesselTable vessels={vessels} volumeMl={volumeMl} />
        </div>
      )}
      {more && <p className="quiet small">{words.more}</p>}
      {pairs.length > 0 && <Pairs pairs={pairs} />}
    </div>
  );
}

function VesselTable({ vessels, volumeMl }: { vessels: readonly Vessel[]; volumeMl: number }) {
  const { columns } = words;
  return (
    <table className="table choose-vessels">
      <caption className="unseen">{words.caption}</caption>
      <thead>
        <tr>
          <th scope="col">{columns.vessel}</th>
          <th scope="col">{columns.says}</th>
          <th scope="col">{columns.volume}</th>
          <th scope="col" className="number">
            {columns.oneUse}
          </th>
          <th scope="col" className="number">
            {columns.relative}
          </th>
          <th scope="col">{columns.place}</th>
        </tr>
      </thead>
      <tbody>
        {vessels.map((vessel, index) => (
          <tr key={vessel.id} data-first={index === 0 && vessel.adequate ? '' : undefined}>
            <th scope="row">
              <Link href={`~/glassware/${vessel.id}`} className="link-line">
                {vessel.tag}
              </Link>
              <span className="quiet small choose-kind-name">{text.words.vesselKinds[vessel.kind]}</span>
            </th>
            <td>
              <Says vessel={vessel} first={index === 0} />
            </td>
            <td>{volumeWords(vessel)}</td>
            <td className="number">
              {vessel.oneUseMl !== null && <Quantity value={`±${significant(2 * vessel.oneUseMl, 2)}`} unit="mL" />}
            </td>
            <td className="number">
              {vessel.oneUseMl !== null && (
                <Quantity value={significant((200 * vessel.oneUseMl) / volumeMl, 2)} unit="%" />
              )}
            </td>
            <td>{vessel.location}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const volumeWords = ({ measuredMl, calibratedOn, nominalVolumeMl, toleranceMl, oneUseMl }: Vessel): string => {
  if (measuredMl !== null && calibratedOn !== null)
    return words.measured(fixed(measuredMl, decimalsForUncertainty(oneUseMl ?? 0)), calibratedOn);
  if (toleranceMl === null) return words.nominalOnly(nominalVolumeMl);
  return words.byTolerance(nominalVolumeMl, fixed(toleranceMl, decimalsForTolerance(toleranceMl)));
};

function Says({ vessel: { adequate, against }, first }: { vessel: Vessel; first: boolean }) {
  if (adequate) return first ? <strong className="choose-take">{words.take}</strong> : <>{words.alsoDoes}</>;
  return <span className="quiet">{against.map((reason) => words.reasons[reason]).join(' ')}</span>;
}

function Pairs({ pairs }: { pairs: ChoiceReply['pairs'] }) {
  return (
    <section className="stack tight">
      <h3>{words.pairsTitle}</h3>
      <p className="measure">{words.pairsLead}</p>
      <ul className="plain choose-pairs">
        {pairs.map(({ first, second, uncertaintyMl, adequate }) => (
          <li key={`${first.id} ${second.id}`}>
            <span>{words.pair(first.tag, second.tag)}</span>
            <Quantity value={words.pairSays(significant(2 * uncertaintyMl, 2))} />
            {adequate === false && <span className="quiet">{words.reasons['too-uncertain']}</span>}
          </li>
        ))}
      </ul>
    </section>
  );
}
