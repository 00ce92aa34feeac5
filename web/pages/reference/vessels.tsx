import { useMemo, useRef, useState } from 'react';
import { Link } from 'wouter';
import { VESSEL_KINDS, type VesselKind } from '../../../server/metrology/record.ts';
import { NO_CLASS } from '../../../server/metrology/tolerance.ts';
import type { ToleranceRowOnWire, ToleranceTable } from '../../../server/reference/contract.ts';
import { practiceText } from '../../messages/en-practice.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { text } from '../../messages/en.ts';
import { Select } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/page.tsx';
import { useWidth } from '../../parts/use-width.ts';
import { ladderGeometry, type LadderGeometry } from '../../plots/limit-ladder.ts';
import { useAllTolerances } from './data.ts';
import { RoomHeader, Statements } from './parts.tsx';
import { VesselDrawing } from './vessel-drawing.tsx';

const words = practiceText.vessels;

export function VesselsPage() {
  const table = useAllTolerances();
  return (
    <>
      <RoomHeader room="vessels" lead={words.lead} />
      <Section title={words.compare}>
        <Loaded query={table} what={referenceText.tolerances.what}>
          {(loaded) => <Comparison table={loaded} />}
        </Loaded>
      </Section>
      <Section title={words.kindsTitle}>
        <ul className="plain kinds">
          {VESSEL_KINDS.map((kind) => (
            <KindCard key={kind} kind={kind} />
          ))}
        </ul>
      </Section>
      <Section title={words.timesTitle}>
        <Statements of={words.times} />
      </Section>
      <Section title={words.careTitle}>
        <Statements of={words.care} />
      </Section>
    </>
  );
}

function KindCard({ kind }: { kind: VesselKind }) {
  const name = text.words.vesselKinds[kind];
  const said = words.kinds[kind];
  return (
    <li className="kind-card">
      <VesselDrawing kind={kind} label={words.drawing(name)} />
      <div className="stack tight">
        <h3>{name}</h3>
        <dl className="kind-facts">
          <dt>{words.goodFor}</dt>
          <dd>{said.goodFor}</dd>
          <dt>{words.notFor}</dt>
          <dd>{said.notFor}</dd>
          <dt>{words.handling}</dt>
          <dd>{said.handling}</dd>
        </dl>
        {kind !== 'pycnometer' && (
          <p>
            <Link href={`/tolerances?kind=${kind}`}>{words.toTable(name)}</Link>
          </p>
        )}
      </div>
    </li>
  );
}

const SIZES = ['1', '5', '10', '25', '50', '100', '250', '500', '1000'] as const;

interface KindLimits {
  kind: VesselKind;
  tightest: ToleranceRowOnWire;
  tightestPercent: number;
  widestPercent: number;
}

const perCentOf = (row: ToleranceRowOnWire, volumeMl: number): number | null =>
  row.toleranceMl === null ? row.tolerancePercent : (100 * row.toleranceMl) / volumeMl;

/** For each kind that is listed at this volume: its tightest limit, and the widest one for contrast. */
function limitsAt(rows: readonly ToleranceRowOnWire[], volumeMl: number): KindLimits[] {
  const found = VESSEL_KINDS.flatMap((kind) => {
    const limits = rows
      .filter((row) => row.kind === kind && (row.nominalVolumeMl === null || row.nominalVolumeMl === volumeMl))
      .flatMap((row) => {
        const percent = perCentOf(row, volumeMl);
        return percent === null ? [] : [{ row, percent }];
      })
      .sort((one, other) => one.percent - other.percent);
    const [first] = limits;
    if (!first) return [];
    const widest = limits.at(-1)?.percent ?? first.percent;
    return [{ kind, tightest: first.row, tightestPercent: first.percent, widestPercent: widest }];
  });
  return found.sort((one, other) => one.tightestPercent - other.tightestPercent);
}

const significant = (value: number): string => String(Number(value.toPrecision(2)));

function Comparison({ table }: { table: ToleranceTable }) {
  const [size, setSize] = useState<(typeof SIZES)[number]>('100');
  const limits = useMemo(() => limitsAt(table.items, Number(size)), [table.items, size]);
  return (
    <div className="stack">
      <div className="comparison-size">
        <Select
          name="size"
          label={words.size}
          value={size}
          options={SIZES.map((value) => ({ value, label: `${value} mL` }))}
          onChange={(value) => value !== '' && setSize(value)}
        />
      </div>
      {limits.length === 0 ? <Notice>{words.compareNone}</Notice> : <Ladder limits={limits} size={Number(size)} />}
    </div>
  );
}

function Ladder({ limits, size }: { limits: readonly KindLimits[]; size: number }) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const geometry = useMemo(
    () =>
      width > 0
        ? ladderGeometry(
            limits.map((one) => ({ ...one, label: one.kind })),
            width,
          )
        : null,
    [limits, width],
  );
  return (
    <div className="ladder">
      <ul className="plain">
        {limits.map(({ kind, tightest, tightestPercent }, index) => (
          <li key={kind}>
            <p className="ladder-words">
              <strong>{text.words.vesselKinds[kind]}</strong>
              <span>{words.limit(significant(tightestPercent), significant((tightestPercent * size) / 100))}</span>
              <span className="quiet small">
                {words.row(tightest.standard, tightest.edition, tightest.class === NO_CLASS ? null : tightest.class)}
              </span>
            </p>
            {geometry && <LadderBar geometry={geometry} index={index} />}
          </li>
        ))}
      </ul>
      <div className="ladder-axis">
        <div ref={box}>{geometry && <LadderAxis geometry={geometry} />}</div>
      </div>
      <p className="quiet small">{words.ladderNote}</p>
    </div>
  );
}

const BAR_HEIGHT = 20;

function LadderBar({ geometry, index }: { geometry: LadderGeometry; index: number }) {
  const bar = geometry.bars[index];
  if (!bar) return null;
  return (
    <svg className="ladder-bar" viewBox={`0 0 ${geometry.width} ${BAR_HEIGHT}`} height={BAR_HEIGHT} aria-hidden="true">
      {geometry.ticks.map((tick) => (
        <line key={tick.label} className="curve-grid" x1={tick.x} x2={tick.x} y1="0" y2={BAR_HEIGHT} />
      ))}
      <line className="ladder-range" x1={bar.x1} x2={bar.x2} y1="10" y2="10" />
      <circle className="ladder-tightest" cx={bar.x1} cy="10" r="6" />
    </svg>
  );
}

function LadderAxis({ geometry }: { geometry: LadderGeometry }) {
  return (
    <svg className="ladder-bar" viewBox={`0 0 ${geometry.width} 22`} height="22" aria-hidden="true">
      {geometry.ticks.map((tick, index) => (
        <text
          key={tick.label}
          className="curve-label"
          x={tick.x}
          y="15"
          textAnchor={index === 0 ? 'start' : index === geometry.ticks.length - 1 ? 'end' : 'middle'}
        >
          {`${tick.label} %`}
        </text>
      ))}
    </svg>
  );
}
