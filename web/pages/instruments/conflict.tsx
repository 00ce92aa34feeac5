import { instrumentsText } from '../../messages/en-instruments.ts';
import { Button } from '../../parts/button.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { differences, type InstrumentDraft } from './draft.ts';

const words = instrumentsText.conflict;

interface ConflictProps {
  mine: InstrumentDraft;
  present: InstrumentDraft;
  onKeepMine: () => void;
  onTakePresent: () => void;
}

/** Two people changed one instrument: what differs side by side, and a decision. */
export function Conflict({ mine, present, onKeepMine, onTakePresent }: ConflictProps) {
  const rows = differences(mine, present);
  return (
    <>
      <PageHeader title={words.title} lead={words.what} />
      <div className="stack" role="alert">
        {rows.length === 0 ? (
          <p>{words.alike}</p>
        ) : (
          <div className="table-box" tabIndex={0} role="region" aria-label={words.title}>
            <table className="table">
              <thead>
                <tr>
                  <th scope="col">{words.field}</th>
                  <th scope="col">{words.mine}</th>
                  <th scope="col">{words.present}</th>
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <tr key={row.field}>
                    <th scope="row">{instrumentsText.fields[row.field]}</th>
                    <td>{row.mine || words.nothing}</td>
                    <td>{row.present || words.nothing}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
        <div className="row">
          {rows.length > 0 && (
            <Button look="primary" onClick={onKeepMine}>
              {words.keepMine}
            </Button>
          )}
          <Button onClick={onTakePresent}>{words.takePresent}</Button>
        </div>
      </div>
    </>
  );
}
