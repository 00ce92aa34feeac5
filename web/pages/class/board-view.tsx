import { type RefObject, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { Board } from '../../../server/experiments/contract-class.ts';
import { boardText as words } from '../../messages/en-board.ts';
import { decimalsForTolerance, fixed } from '../../parts/rounding.ts';
import { useWidth } from '../../parts/use-width.ts';
import { type BoardAxis, boardAxis, type BoardGeometry, boardGeometry } from '../../plots/board.ts';
import { pictureHeight } from './board-height.ts';
import { AxisPicture, MarkKey, NARROW_PX, RowPicture } from './board-picture.tsx';
import { type BoardLook, shownRows, type ShownRow } from './board-rows.ts';
import { BoardSettings } from './board-settings.tsx';
import { BoardTable } from './board-table.tsx';
import { figuresOf } from './board-words.ts';

const LOOK_SHELF = 'tarebook.board.look';
const FIRST_LOOK: BoardLook = {
  ...{ volume: 'corrected', scale: 'millilitres', rowsAre: 'ware', ware: '' },
  ...{ showsPredictions: true, showsNames: true },
};

/** How this browser looks at boards; kept, so that a reload before the class changes nothing. */
function useLook() {
  const [look, setLook] = useState<BoardLook>(() => {
    try {
      return { ...FIRST_LOOK, ...(JSON.parse(localStorage.getItem(LOOK_SHELF) ?? '{}') as Partial<BoardLook>) };
    } catch {
      return FIRST_LOOK;
    }
  });
  const change = (changed: Partial<BoardLook>) => {
    const next = { ...look, ...changed };
    setLook(next);
    try {
      localStorage.setItem(LOOK_SHELF, JSON.stringify(next));
    } catch {
      // Only a reload forgets it then.
    }
  };
  return [look, change] as const;
}

function useWindowHeight(): number {
  const [height, setHeight] = useState(window.innerHeight);
  useEffect(() => {
    const resized = () => setHeight(window.innerHeight);
    window.addEventListener('resize', resized);
    return () => window.removeEventListener('resize', resized);
  }, []);
  return height;
}

/** Where the rows begin, from the top of the page: what stands above them is as high as its words and the window make it. */
function useTop(element: RefObject<HTMLElement | null>): number {
  const [top, setTop] = useState(0);
  useLayoutEffect(() => {
    const box = element.current?.getBoundingClientRect();
    if (box) setTop(Math.round(box.top + window.scrollY));
  });
  return top;
}

export function BoardView({ board }: { board: Board }) {
  const [look, setLook] = useLook();
  const measured = useRef<HTMLDivElement>(null);
  const width = useWidth(measured);
  const windowHeight = useWindowHeight();
  const top = useTop(measured);
  const rows = useMemo(() => shownRows(board, look), [board, look]);
  const axis = useMemo(() => boardAxis(rows, look.scale), [rows, look.scale]);
  const isGroups = look.rowsAre === 'groups';
  const hasSteps = look.scale === 'relative' && axis.ticks.length > 3;
  const rowHeight = pictureHeight({ rows: rows.length, isGroups, hasSteps, top, windowHeight, width });
  const geometry = useMemo(
    () => (width > 0 ? boardGeometry(rows, axis, { width, rowHeight }, width < NARROW_PX ? 48 : 84) : null),
    [rows, axis, width, rowHeight],
  );
  const hasLeftOut = rows.some(({ trials }) => trials.some(({ excluded }) => excluded));
  const hasPredictions = rows.some(({ predictions }) => predictions.length > 0);
  return (
    <>
      <BoardSettings board={board} look={look} onLook={setLook} />
      {isGroups && rows[0] && (
        <p className="board-ware">
          <strong>{rows[0].ware.label}</strong> {wareWords(rows[0])}
        </p>
      )}
      <div className="board-rows" data-rows={look.rowsAre}>
        {board.madeUp && (
          <p className="board-watermark" aria-hidden="true">
            <span>{words.madeUp}</span>
          </p>
        )}
        <div className="board-measure" ref={measured} />
        {rows.map((row, index) => (
          <Row key={row.key} {...{ row, axis, geometry, index, isGroups }} />
        ))}
        {geometry && rows.length > 0 && (
          <div className="board-foot">
            <AxisPicture geometry={geometry} axis={axis} />
          </div>
        )}
      </div>
      {board.trials.length === 0 && <p className="quiet">{words.empty}</p>}
      <MarkKey hasLeftOut={hasLeftOut} hasPredictions={hasPredictions} isOneGroup={isGroups} />
      {hasSteps && <p className="board-steps">{words.steps}</p>}
      <BoardTable board={board} look={look} />
    </>
  );
}

interface RowProps {
  row: ShownRow;
  axis: BoardAxis;
  geometry: BoardGeometry | null;
  index: number;
  isGroups: boolean;
}

/** How it was weighed, always named; what it should hold, and within what. */
const wareWords = ({ ware, basis, toleranceMl }: ShownRow): string => {
  const tolerance =
    toleranceMl === null ? words.noTolerance : words.tolerance(fixed(toleranceMl, decimalsForTolerance(toleranceMl)));
  const drops = ware.drops === null ? [] : [words.drops(ware.drops)];
  return `${words.bases[basis]} · ${[words.nominal(ware.nominalVolumeMl), tolerance, ...drops].join(', ')}`;
};

function Row({ row, axis, geometry, index, isGroups }: RowProps) {
  const { n, bias, spread } = figuresOf(row, axis.scale);
  const picture = geometry?.rows[index];
  return (
    <section className="board-row" aria-label={row.label}>
      <div className="board-row-head">
        <h2>{row.label}</h2>
        {!isGroups && <p className="board-row-basis">{wareWords(row)}</p>}
      </div>
      <div className="board-row-picture">
        {geometry && picture && <RowPicture {...{ geometry, picture, row, axis }} isOneGroup={isGroups} />}
      </div>
      <dl className="board-figures">
        <div>
          <dt>{words.n}</dt>
          <dd>{n}</dd>
        </div>
        <div>
          <dt>{words.bias}</dt>
          <dd>{bias}</dd>
        </div>
        <div>
          <dt>{words.spread}</dt>
          <dd>{spread}</dd>
        </div>
      </dl>
    </section>
  );
}
