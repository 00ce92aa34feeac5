import type { ReactNode } from 'react';
import { boardText as words } from '../../messages/en-board.ts';
import type { BoardAxis, BoardDot, BoardGeometry, BoardRowGeometry } from '../../plots/board.ts';
import type { ShownRow } from './board-rows.ts';
import { edgeWords, rowSentence, tickWords } from './board-words.ts';

/** Below this width of the picture it is a phone’s. */
export const NARROW_PX = 500;

interface RowPictureProps {
  geometry: BoardGeometry;
  picture: BoardRowGeometry;
  row: ShownRow;
  axis: BoardAxis;
  /** A row of one group has one mean. */
  isOneGroup: boolean;
}

/** One row of the board: tolerance band, every trial a dot, means of groups above, expected volumes below the line. */
export function RowPicture({ geometry, picture, row, axis, isOneGroup }: RowPictureProps) {
  const { width, rowHeight, lanes, axis: line } = geometry;
  const { band, dots, dotRadius, groupMeans, mean, predictions, edges } = picture;
  return (
    <svg
      className="board-picture"
      role="img"
      aria-label={rowSentence(row, axis.scale)}
      height={rowHeight}
      viewBox={`0 0 ${width} ${rowHeight}`}
    >
      <g aria-hidden="true">
        {band && (
          <rect
            className="strip-band"
            x={band.x}
            width={band.width}
            y={lanes.meansTop}
            height={lanes.axisY - lanes.meansTop}
          />
        )}
        {line.ticks.map(({ x, value }) => (
          <line key={value} className="board-tick" x1={x} x2={x} y1={lanes.dotsTop} y2={lanes.axisY} />
        ))}
        {band && (
          <path
            className="strip-post"
            d={`M${band.x} ${lanes.meansTop}V${lanes.axisY}M${band.x + band.width} ${lanes.meansTop}V${lanes.axisY}`}
          />
        )}
        <line className="strip-axis" x1={line.x1} x2={line.x2} y1={lanes.axisY} y2={lanes.axisY} />
        <line className="board-nominal" x1={line.nominalX} x2={line.nominalX} y1={0} y2={lanes.axisY} />
        {mean && <line className="board-mean" x1={mean.x} x2={mean.x} y1={lanes.dotsTop} y2={lanes.axisY + 3} />}
        {!isOneGroup &&
          groupMeans.map(({ group, x, y1, y2 }) => (
            <line key={group} className="board-group-mean" x1={x} x2={x} y1={y1} y2={y2} />
          ))}
        {dots.map((dot, index) => (
          <Dot key={index} dot={dot} radius={dotRadius} />
        ))}
        {predictions.map(({ group, x, y, size }) => (
          <path
            key={group}
            className="board-predicted"
            d={`M${x - size} ${y + size}L${x} ${y - size}L${x + size} ${y + size}Z`}
          />
        ))}
        {edges.map(({ side, volumeMl, x }) => (
          <text
            key={side}
            className="board-edge"
            x={side === 'low' ? x - dotRadius - 4 : x + dotRadius + 4}
            y={lanes.axisY - 2}
            textAnchor={side === 'low' ? 'end' : 'start'}
          >
            {edgeWords(row, axis, volumeMl)}
          </text>
        ))}
      </g>
    </svg>
  );
}

function Dot({ dot: { x, y, excluded }, radius }: { dot: BoardDot; radius: number }) {
  if (!excluded) return <circle className="strip-dot" cx={x} cy={y} r={radius} />;
  return (
    <>
      <circle className="strip-dot-excluded" cx={x} cy={y} r={Math.max(1, radius - 0.5)} />
      <path className="strip-stroke" d={`M${x - radius} ${y + radius}L${x + radius} ${y - radius}`} />
    </>
  );
}

/** The labels of the one axis; they stay in sight below the rows. */
export function AxisPicture({ geometry, axis }: { geometry: BoardGeometry; axis: BoardAxis }) {
  return (
    <div className="board-axis" aria-hidden="true">
      {labelledTicks(geometry).map(({ x, value }) => (
        <span key={value} className="board-axis-label" ref={(label) => label?.style.setProperty('left', `${x}px`)}>
          {tickWords(axis, value)}
        </span>
      ))}
    </div>
  );
}

/** Ticks with room for a label: the nominal volume, then from the ends inwards. */
function labelledTicks({ width, axis: { ticks, nominalX } }: BoardGeometry) {
  const gap = width < NARROW_PX ? 44 : 84;
  const kept = ticks.filter(({ value }) => value === 0);
  for (const tick of [...ticks].sort((a, b) => Math.abs(b.x - nominalX) - Math.abs(a.x - nominalX)))
    if (kept.every(({ x }) => Math.abs(x - tick.x) >= gap)) kept.push(tick);
  return kept;
}

interface MarkKeyProps {
  hasPredictions: boolean;
  hasLeftOut: boolean;
  isOneGroup: boolean;
}

/** What each mark means. */
export function MarkKey({ hasPredictions, hasLeftOut, isOneGroup }: MarkKeyProps) {
  return (
    <ul className="plain board-key" aria-hidden="true">
      <KeyItem word={words.key.trial}>
        <circle className="strip-dot" cx="8" cy="8" r="5" />
      </KeyItem>
      {hasLeftOut && (
        <KeyItem word={words.key.leftOut}>
          <circle className="strip-dot-excluded" cx="8" cy="8" r="5" />
          <path className="strip-stroke" d="M3 13L13 3" />
        </KeyItem>
      )}
      {!isOneGroup && (
        <KeyItem word={words.key.groupMean}>
          <line className="board-group-mean" x1="8" x2="8" y1="3" y2="13" />
        </KeyItem>
      )}
      <KeyItem word={isOneGroup ? words.key.groupMean : words.key.mean}>
        <line className="board-mean" x1="8" x2="8" y1="0" y2="16" />
      </KeyItem>
      {hasPredictions && (
        <KeyItem word={words.key.predicted}>
          <path className="board-predicted" d="M3 13L8 3L13 13Z" />
        </KeyItem>
      )}
      <KeyItem word={words.key.tolerance}>
        <rect className="strip-band" x="1" width="14" y="2" height="12" />
        <path className="strip-post" d="M1 2V14M15 2V14" />
      </KeyItem>
    </ul>
  );
}

function KeyItem({ word, children }: { word: string; children: ReactNode }) {
  return (
    <li>
      <svg viewBox="0 0 16 16" width="16" height="16">
        {children}
      </svg>
      {word}
    </li>
  );
}
