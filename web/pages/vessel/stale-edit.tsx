import { text } from '../../messages/en.ts';
import { Button } from '../../parts/button.tsx';
import { PageHeader } from '../../parts/page.tsx';
import type { VesselDraft } from './draft.ts';

interface StaleEditProps {
  mine: VesselDraft;
  stored: VesselDraft;
  onKeepMine: () => void;
  onTakeStored: () => void;
}

/** Two people changed one vessel: both versions side by side, and a decision. */
export function StaleEdit({ mine, stored, onKeepMine, onTakeStored }: StaleEditProps) {
  const words = text.vesselForm;
  const fields = (Object.keys(stored) as (keyof VesselDraft)[]).filter((field) => mine[field] !== stored[field]);
  return (
    <>
      <PageHeader title={words.staleTitle} lead={words.staleWhat} />
      <div className="stack">
        <div className="table-box">
          <table className="table">
            <thead>
              <tr>
                <th scope="col">{words.staleField}</th>
                <th scope="col">{words.staleYours}</th>
                <th scope="col">{words.staleStored}</th>
              </tr>
            </thead>
            <tbody>
              {fields.map((field) => (
                <tr key={field}>
                  <th scope="row">{text.vessel.facts[field] ?? field}</th>
                  <td>{shown(mine[field])}</td>
                  <td>{shown(stored[field])}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        <div className="row">
          <Button look="primary" onClick={onKeepMine}>
            {words.staleKeepMine}
          </Button>
          <Button onClick={onTakeStored}>{words.staleTakeStored}</Button>
        </div>
      </div>
    </>
  );
}

const shown = (value: string | boolean): string => {
  if (typeof value === 'boolean') return value ? text.words.yes : text.words.no;
  return value === '' ? text.words.none : value.replace('|', ':');
};
