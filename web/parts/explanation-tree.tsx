import { useQuery } from '@tanstack/react-query';
import { Fragment, useState } from 'react';
import { Link } from 'wouter';
import type { Calibration } from '../../server/calibrations/contract.ts';
import { SOURCES } from '../../server/metrology/sources.ts';
import { WATER_COEFFICIENTS } from '../../server/metrology/water-density.ts';
import { get } from '../api.ts';
import { explanationText } from '../messages/en-explanation.ts';
import { budgetText } from '../messages/en-working.ts';
import {
  type Explanation,
  numbersPutIn,
  readingDecimalsOf,
  shownNumber,
  unitWords,
  withUnit,
} from './explained-number.ts';
import { Loaded } from './loading.tsx';
import { Quantity } from './quantity.tsx';
import type { Unfoldable } from './unfold.tsx';
import './explanation.css';

const words = explanationText;

/** Asked for only when something is opened, and once for each version of a calibration. */
const useExplained = (id: string, version: number | string) =>
  useQuery({
    queryKey: ['calibrations', id, 'explained', version],
    queryFn: ({ signal }) => get<Calibration>(`/api/calibrations/${id}?explain=true`, signal),
    staleTime: 60_000,
  });

function explanationOf(calibration: Calibration, of: Unfoldable): Explanation | null {
  const { explain } = calibration;
  if ('trial' in of) return explain?.trials.find(({ number }) => number === of.trial)?.[of.number] ?? null;
  const point = explain?.points.find(({ pointMl }) => Number(pointMl) === Number(of.pointMl));
  if (!point) return null;
  if (of.number === 'coverageFactor')
    return point.expandedUncertainty?.parts.find(({ symbol }) => symbol === 'k') ?? null;
  return point[of.number];
}

interface PanelProps {
  calibrationId: string;
  version: number | string;
  of: Unfoldable;
  /** Without it the panel stays as long as what holds it. */
  onClose?: () => void;
}

/** A number opened: its formula, the numbers put in, its parts down to typed readings and sources. */
export default function ExplanationPanel({ calibrationId, version, of, onClose }: PanelProps) {
  const explained = useExplained(calibrationId, version);
  return (
    <Loaded query={explained} what={words.what}>
      {(calibration) => {
        const found = explanationOf(calibration, of);
        const decimals = readingDecimalsOf(calibration.trials);
        if (found) return <ExplainedNode node={found} decimals={decimals} {...(onClose ? { onClose } : {})} />;
        return (
          <section className="explained" aria-label={words.what}>
            <div className="explained-top">
              <p className="quiet">{words.nothing}</p>
              {onClose && <Close onClose={onClose} />}
            </div>
          </section>
        );
      }}
    </Loaded>
  );
}

interface NodeProps {
  node: Explanation;
  decimals: number;
}

/** A number that is at hand already, opened. */
export function ExplainedNode({ node, decimals, onClose }: NodeProps & { onClose?: () => void }) {
  return (
    <section className="explained" aria-label={labelOf(node)}>
      <div className="explained-top">
        <Head node={node} decimals={decimals} />
        {onClose && <Close onClose={onClose} />}
      </div>
      <Body node={node} decimals={decimals} />
    </section>
  );
}

function Close({ onClose }: { onClose: () => void }) {
  return (
    <button type="button" className="explained-close no-print" aria-label={words.close} onClick={onClose}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        <path d="M4 4l8 8M12 4l-8 8" />
      </svg>
    </button>
  );
}

function labelOf({ symbol, label }: Explanation): string {
  return budgetText.components[label] ?? words.labels[`${symbol} ${label}`] ?? label;
}

/** Symbol, number, what it is. */
function Head({ node, decimals }: NodeProps) {
  return (
    <span className="explained-head">
      <span className="explained-symbol" translate="no">
        <Symbols of={node.symbol.startsWith('u(') ? 'u_i' : node.symbol} />
      </span>
      <span className="explained-value">
        <Quantity value={shownNumber(node, decimals)} unit={unitWords(node.unit)} />
      </span>
      <span className="explained-label">
        {labelOf(node)}
        {node.typed !== undefined && <span className="quiet">, {words.typed}</span>}
        {node.assumed && <strong>, {words.assumed}</strong>}
      </span>
    </span>
  );
}

function Body({ node, decimals }: NodeProps) {
  const { formula, parts, symbol } = node;
  const put = numbersPutIn(node, decimals, COEFFICIENTS);
  return (
    <div className="explained-body">
      {formula !== null && (
        <div className="explained-formula" translate="no">
          <p>
            <Symbols of={symbol.startsWith('u(') ? 'u_i' : symbol} /> = <Symbols of={formula} />
          </p>
          {put !== null && (
            <p>
              = {put} = <b>{withUnit(shownNumber(node, decimals), node.unit)}</b>
            </p>
          )}
        </div>
      )}
      <Source node={node} />
      {parts.length > 0 && (
        <ul className="plain explained-parts">
          {parts.map((part, index) => (
            <Part key={index} node={part} decimals={decimals} />
          ))}
        </ul>
      )}
    </div>
  );
}

const COEFFICIENTS = Object.fromEntries(
  Object.entries(WATER_COEFFICIENTS).map(([name, value]) => [name.replace('_', ''), value]),
);

/** A part opens further where it is made of something. */
function Part({ node, decimals }: NodeProps) {
  const [isOpen, setOpen] = useState(false);
  if (node.formula === null && node.parts.length === 0)
    return (
      <li className="explained-leaf">
        <Head node={node} decimals={decimals} />
        <Source node={node} />
      </li>
    );
  return (
    <li>
      <details onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>
          <Head node={node} decimals={decimals} />
        </summary>
        {isOpen && <Body node={node} decimals={decimals} />}
      </details>
    </li>
  );
}

const isWork = (key: string): key is keyof typeof SOURCES => key in SOURCES;

/** Where a formula or a constant stands, with the way to the list of sources. */
function Source({ node: { source, locator } }: { node: Explanation }) {
  if (source === undefined) return null;
  const place = locator ? `, ${locator}` : '';
  if (!isWork(source))
    return (
      <p className="explained-source">
        {words.commonPractice}
        {place}
      </p>
    );
  const { authors, year, place: printed } = SOURCES[source];
  // A standard is known by its number, a paper by its author.
  const cited = /^[A-Z][A-Z-]+\d*[ :].*\d{4}$/.test(printed)
    ? printed
    : words.cited(authors.split(',')[0] ?? authors, year);
  return (
    <p className="explained-source">
      <Link href={`/reference/sources#${source}`}>{cited}</Link>
      {place}
    </p>
  );
}

const WITH_INDEX = /(?<![\p{L}])(ρ[wab]|t(?:w|a|ref)|Vnom|Vs|xv|M[av])(?![\p{L}])|([\p{L}]+)_([\p{L}]+)/gu;

/** Symbols with their indices lowered: `ρw`, `u_c`. */
function Symbols({ of }: { of: string }) {
  const pieces: { text: string; index?: string }[] = [];
  let end = 0;
  for (const match of of.matchAll(WITH_INDEX)) {
    pieces.push({ text: of.slice(end, match.index) });
    const whole = match[1];
    pieces.push(
      whole === undefined
        ? { text: match[2] ?? '', index: match[3] ?? '' }
        : { text: whole.slice(0, 1), index: whole.slice(1) },
    );
    end = match.index + match[0].length;
  }
  pieces.push({ text: of.slice(end) });
  return pieces.map(({ text, index }, at) => (
    <Fragment key={at}>
      {text}
      {index !== undefined && <sub>{index}</sub>}
    </Fragment>
  ));
}
