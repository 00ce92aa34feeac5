import { conflictText } from '../messages/en-conflict.ts';
import { Button } from './button.tsx';

export interface VersionsRow {
  name: string;
  before: string;
  mine: string;
  present: string;
}

interface VersionsProps {
  rows: readonly VersionsRow[];
  busy: boolean;
  onMerge: () => void;
  onTakePresent: () => void;
}

/** Two people changed one thing: before, mine and what was saved meanwhile side by side, and a decision. */
export function Versions({ rows, busy, onMerge, onTakePresent }: VersionsProps) {
  const differs = rows.some((row) => row.mine !== row.present);
  return (
    <div className="stack" role="alert">
      <p className="measure">{differs ? conflictText.what : conflictText.alike}</p>
      <div className="table-box" tabIndex={0} role="region" aria-label={conflictText.caption}>
        <table className="table">
          <thead>
            <tr>
              <th scope="col">{conflictText.field}</th>
              <th scope="col">{conflictText.before}</th>
              <th scope="col">{conflictText.mine}</th>
              <th scope="col">{conflictText.present}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.name}>
                <th scope="row">{row.name}</th>
                <td className="quiet">{row.before || conflictText.nothing}</td>
                <td>{changed(row.mine, row.before)}</td>
                <td>{changed(row.present, row.before)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {differs && <p className="quiet">{conflictText.mergeHelp}</p>}
      <div className="row">
        {differs && (
          <Button look="primary" onClick={onMerge} disabled={busy}>
            {conflictText.merge}
          </Button>
        )}
        <Button onClick={onTakePresent}>{conflictText.takePresent}</Button>
      </div>
    </div>
  );
}

/** What was changed stands out, in either column. */
const changed = (value: string, before: string) =>
  value === before ? (
    <span className="quiet">{value || conflictText.nothing}</span>
  ) : (
    <strong>{value || conflictText.nothing}</strong>
  );
