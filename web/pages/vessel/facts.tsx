import type { Vessel } from '../../../server/glassware/contract.ts';
import { text } from '../../messages/en.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { Quantity } from '../../parts/quantity.tsx';
import { moment } from '../../parts/time.ts';
import { toleranceSourceWords, toleranceWords } from '../../parts/tolerance-words.ts';

/** Everything known of a vessel; what is not known is left out. */
export function VesselFactList({ vessel }: { vessel: Vessel }) {
  const source = toleranceSourceWords(vessel);
  const quantities: [field: string, value: string | null, unit: string][] = [
    ['expansionPerK', vessel.expansionPerK, '/K'],
    ['referenceTemperatureC', vessel.referenceTemperatureC, '°C'],
    ['divisionMl', vessel.divisionMl, 'mL'],
    ['marks', vessel.marks?.join(' · ') ?? null, 'mL'],
    ['neckDiameterMm', vessel.neckDiameterMm, 'mm'],
    ['waitingTimeS', vessel.waitingTimeS, 's'],
    ['expectedSpreadMl', vessel.expectedSpreadMl, 'mL'],
  ];
  const { channels, blowOut } = vessel;
  const words: [field: string, value: string | null][] = [
    ['channels', channels === null ? null : String(channels)],
    ['blowOut', blowOut === null ? null : vesselText.lastDrop[blowOut ? 'yes' : 'no']],
    ['serial', vessel.serial],
    ['maker', vessel.maker],
    ['location', vessel.location],
    ['acquiredOn', vessel.acquiredOn],
    ['intervalMonths', vessel.intervalMonths === null ? null : vesselText.months(vessel.intervalMonths)],
    ['intervalReason', vessel.intervalReason],
    ['note', vessel.note],
  ];
  return (
    <dl className="facts">
      <dt>{vesselText.facts.tolerance}</dt>
      <dd>
        {toleranceWords(vessel)}
        {source && <span className="fact-source">{source}</span>}
      </dd>
      <dt>{vesselText.facts.basis}</dt>
      <dd>{text.words.bases[vessel.basis]}</dd>
      <dt>{vesselText.facts.material}</dt>
      <dd>{text.words.materials[vessel.material]}</dd>
      {quantities.map(([field, value, unit]) =>
        value === null ? null : (
          <div className="fact" key={field}>
            <dt>{vesselText.facts[field]}</dt>
            <dd>
              <Quantity value={value} unit={unit} />
            </dd>
          </div>
        ),
      )}
      {words.map(([field, value]) =>
        value ? (
          <div className="fact" key={field}>
            <dt>{vesselText.facts[field]}</dt>
            <dd>{value}</dd>
          </div>
        ) : null,
      )}
      <dt>{vesselText.facts.recorded}</dt>
      <dd>
        <time>{moment(vessel.recordedAt)}</time>
        <span className="fact-source">{vessel.recordedBy}</span>
      </dd>
    </dl>
  );
}
