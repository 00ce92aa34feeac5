import type { Board } from '../../../server/experiments/contract-class.ts';
import { boardText as words } from '../../messages/en-board.ts';
import { fixed } from '../../parts/rounding.ts';
import { type BoardLook, nameOf, shownRows, type ShownRow } from './board-rows.ts';
import { decimalsOfRow } from './board-words.ts';

/** The board as a table: every trial of every group, for whoever cannot see the picture, and for copying. */
export function BoardTable({ board, look }: { board: Board; look: BoardLook }) {
  const rows = shownRows(board, { ...look, rowsAre: 'ware' });
  return (
    <details className="unfold board-table">
      <summary>{words.asTable}</summary>
      <div className="table-box" tabIndex={0} role="region" aria-label={words.table}>
        <table className="table">
          <caption>{words.table}</caption>
          <thead>
            <tr>
              <th scope="col">{words.tableRow}</th>
              <th scope="col">{words.tableGroup}</th>
              {board.predictions && look.showsPredictions && (
                <th scope="col" className="number">
                  {words.tableExpected}
                </th>
              )}
              <th scope="col">{words.tableTrials}</th>
              <th scope="col" className="number">
                {words.tableMean}
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) =>
              board.groups.map(({ number }) => (
                <GroupLine key={`${row.key} ${number}`} {...{ board, look, row, group: number }} />
              )),
            )}
          </tbody>
        </table>
      </div>
    </details>
  );
}

function GroupLine({ board, look, row, group }: { board: Board; look: BoardLook; row: ShownRow; group: number }) {
  const one = shownRows(board, { ...look, rowsAre: 'groups', ware: row.key }).find(
    ({ key }) => key === `group-${group}`,
  );
  if (!one || (one.trials.length === 0 && one.predictions.length === 0)) return null;
  const decimals = decimalsOfRow(row) + 1;
  const volumes = one.trials.map(({ volumeMl, excluded }) => {
    const shown = fixed(volumeMl, decimals);
    return excluded ? words.leftOut(shown) : shown;
  });
  return (
    <tr>
      <th scope="row">
        {row.label}, {words.bases[row.basis]}
      </th>
      <td>{nameOf(board, look, group)}</td>
      {board.predictions && look.showsPredictions && (
        <td className="number">{one.predictions.map(({ volumeMl }) => volumeMl).join('')}</td>
      )}
      <td>{volumes.join(' · ')}</td>
      <td className="number">{one.summary ? fixed(one.summary.mean, decimals) : words.nothing}</td>
    </tr>
  );
}
