import { Link } from 'wouter';
import type { OldSheetPreview, OldSheetTaken } from '../../../server/old-sheets/contract.ts';
import { oldSheetsText } from '../../messages/en-old-sheets.ts';

const words = oldSheetsText;

/** The calibrations of the list with how each stands, and every row that is in the way. */
export function SheetFound({ preview }: { preview: OldSheetPreview }) {
  if (preview.calibrations.length === 0) return null;
  return (
    <section className="stack">
      <h2>{words.checked}</h2>
      <div className="table-box" role="region" aria-label={words.checked} tabIndex={0}>
        <table className="table old-found">
          <caption className="unseen">{words.caption}</caption>
          <thead>
            <tr>
              <th scope="col">{words.heads.tag}</th>
              <th scope="col">{words.heads.day}</th>
              <th scope="col">{words.heads.lines}</th>
              <th scope="col">{words.heads.standing}</th>
            </tr>
          </thead>
          <tbody>
            {preview.calibrations.map(({ tag, performedOn, lines, standing }) => (
              <tr key={`${tag} ${performedOn}`}>
                <th scope="row">{tag}</th>
                <td>{performedOn}</td>
                <td>{lines.join(', ')}</td>
                <td>{words.standings[standing]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {preview.problems.length > 0 && (
        <>
          <h3>{words.problems}</h3>
          <ul className="plain findings">
            {preview.problems.map(({ line, field, detail }) => (
              <li key={`${line} ${field} ${detail}`}>{words.problem(line, detail)}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

/** What now stands in the record, each on its way to the bench. */
export function SheetTaken({ taken }: { taken: OldSheetTaken }) {
  return (
    <section className="stack" role="status">
      <h2>{words.taken(taken.calibrations.length)}</h2>
      <p>{words.open}</p>
      <ul className="plain">
        {taken.calibrations.map(({ id, tag, performedOn, trials }) => (
          <li key={id}>
            <Link href={`/bench/${id}`} className="lone-link">
              {tag}
            </Link>{' '}
            {performedOn}, {words.trials(trials)}
          </li>
        ))}
      </ul>
      {taken.leftOut.length > 0 && <p>{words.leftOut(taken.leftOut.join(', '))}</p>}
    </section>
  );
}
