import { useMemo } from 'react';
import { useSearchParams } from 'wouter';
import { VESSEL_KINDS, type VesselKind } from '../../../server/metrology/record.ts';
import { NO_CLASS } from '../../../server/metrology/tolerance.ts';
import type { ToleranceRowOnWire, ToleranceTable } from '../../../server/reference/contract.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { text } from '../../messages/en.ts';
import { Select } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { CheckMark, checkOf, CHECKS } from './check-mark.tsx';
import { useAllTolerances } from './data.ts';
import { RoomHeader, WideTable } from './parts.tsx';

const words = referenceText.tolerances;

export function TolerancesPage() {
  const table = useAllTolerances();
  return (
    <>
      <RoomHeader room="tolerances" lead={words.lead} />
      <Loaded query={table} what={words.what}>
        {(loaded) => <Tolerances table={loaded} />}
      </Loaded>
    </>
  );
}

const isKind = (value: string): value is VesselKind => (VESSEL_KINDS as readonly string[]).includes(value);

function Tolerances({ table }: { table: ToleranceTable }) {
  // The choice stands in the address, so that it can be sent to somebody and survives the way back.
  const [search, setSearch] = useSearchParams();
  const kindAsked = search.get('kind') ?? '';
  const kind = isKind(kindAsked) ? kindAsked : '';
  const ofKind = useMemo(() => table.items.filter((row) => kind === '' || row.kind === kind), [table.items, kind]);
  const standards = [...new Set(ofKind.map((row) => row.standard))];
  const standardAsked = search.get('standard') ?? '';
  const standard = standards.includes(standardAsked) ? standardAsked : '';
  const shown = ofKind.filter((row) => standard === '' || row.standard === standard);
  const choose = (changes: Record<string, string>) => {
    const chosen = Object.entries({ kind, standard, ...changes }).filter(([, value]) => value !== '');
    setSearch(new URLSearchParams(chosen), { replace: true });
  };
  return (
    <div className="stack">
      <div className="field-pair tolerance-filter no-print">
        <Select
          name="kind"
          label={words.kind}
          none={words.anyKind}
          value={kind}
          options={VESSEL_KINDS.filter((one) => table.items.some((row) => row.kind === one)).map((value) => ({
            value,
            label: text.words.vesselKinds[value],
          }))}
          onChange={(value) => choose({ kind: value })}
        />
        <Select
          name="standard"
          label={words.standard}
          none={words.anyStandard}
          value={standard}
          options={standards.map((value) => ({ value, label: value }))}
          onChange={(value) => choose({ standard: value })}
        />
      </div>
      <p className="quiet" role="status">
        {words.shown(shown.length, table.items.length)} · {words.version(table.version)}
      </p>
      <Checked rows={shown} />
      {shown.length === 0 ? (
        <Notice>{words.nothing}</Notice>
      ) : (
        groupsOf(shown).map((rows) => <StandardTable key={keyOf(rows[0])} rows={rows} table={table} />)
      )}
    </div>
  );
}

const keyOf = (row: ToleranceRowOnWire | undefined): string => `${row?.standard} ${row?.edition} ${row?.kind}`;

/** Rows of one standard, edition and kind together, in the order of the table. */
function groupsOf(rows: readonly ToleranceRowOnWire[]): ToleranceRowOnWire[][] {
  const groups = new Map<string, ToleranceRowOnWire[]>();
  for (const row of rows) {
    const group = groups.get(keyOf(row));
    if (group) group.push(row);
    else groups.set(keyOf(row), [row]);
  }
  return [...groups.values()];
}

/** How many of the shown limits were checked how far. */
function Checked({ rows }: { rows: readonly ToleranceRowOnWire[] }) {
  const counts = CHECKS.map((check) => ({ check, count: rows.filter((row) => checkOf(row) === check).length }));
  return (
    <ul className="plain checked" aria-label={words.marksTitle}>
      {counts
        .filter(({ count }) => count > 0)
        .map(({ check, count }) => (
          <li key={check}>
            <strong>{count}</strong> <CheckMark check={check} />
          </li>
        ))}
    </ul>
  );
}

function StandardTable({ rows, table }: { rows: readonly ToleranceRowOnWire[]; table: ToleranceTable }) {
  const [first] = rows;
  if (!first) return null;
  const standard = table.standards.find((one) => one.id === first.standard);
  const named = new Set(rows.flatMap((row) => row.sources));
  const sources = table.sources.filter((source) => named.has(source.key));
  return (
    <section className="standard">
      <h2>
        {first.standard} <span className="quiet">{text.words.vesselKinds[first.kind as VesselKind]}</span>
      </h2>
      {standard && (
        <p className="quiet measure small">
          {standard.title}, {words.edition(first.edition)}. {standard.note}
        </p>
      )}
      <WideTable caption={`${first.standard}, ${words.edition(first.edition)}`}>
        <ColumnHeads />
        <tbody>
          {rows.map((row) => (
            <Row key={`${row.class} ${row.nominalVolumeMl} ${row.divisionMl} ${row.note}`} row={row} />
          ))}
        </tbody>
      </WideTable>
      {sources.length > 0 && (
        <details className="sources-of">
          <summary>{words.sourcesTitle}</summary>
          <ul>
            {sources.map((source) => (
              <li key={source.key}>
                {source.title}. <span className="quiet">{words.seen(source.seen)}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

function ColumnHeads() {
  const columns = words.columns;
  return (
    <thead>
      <tr>
        <th scope="col">{columns.class}</th>
        <th scope="col" className="number">
          {columns.volume}
        </th>
        <th scope="col" className="number">
          {columns.division}
        </th>
        <th scope="col" className="number">
          {columns.limit}
        </th>
        <th scope="col">{columns.basis}</th>
        <th scope="col">{columns.checked}</th>
        <th scope="col">{columns.more}</th>
      </tr>
    </thead>
  );
}

function Row({ row }: { row: ToleranceRowOnWire }) {
  return (
    <tr>
      <th scope="row">{row.class === NO_CLASS ? words.noClass : row.class}</th>
      <td className="number">{row.nominalVolumeMl === null ? words.anySize : `${row.nominalVolumeMl} mL`}</td>
      <td className="number">{row.divisionMl === null ? '' : `${row.divisionMl} mL`}</td>
      <td className="number">{limitOf(row)}</td>
      <td>{row.basis === 'either' ? words.either : text.words.basesShort[row.basis]}</td>
      <td>
        <CheckMark check={checkOf(row)} />
      </td>
      <td className="tolerance-more">{moreOf(row)}</td>
    </tr>
  );
}

/** Digits of a limit as the table has them, without the dust of binary fractions. */
const plainNumber = (value: number): string => String(Number(value.toPrecision(12)));

export function limitOf(row: Pick<ToleranceRowOnWire, 'toleranceMl' | 'tolerancePercent'>): string {
  if (row.toleranceMl === null) return row.tolerancePercent === null ? '' : `${plainNumber(row.tolerancePercent)} %`;
  const percent = row.tolerancePercent === null ? '' : ` ${words.perCent(plainNumber(row.tolerancePercent))}`;
  return `${plainNumber(row.toleranceMl)} mL${percent}`;
}

function moreOf(row: ToleranceRowOnWire): string {
  const delivery = row.deliveryTimeS;
  return [
    row.neckDiameterMaxMm === null ? null : words.neck(String(row.neckDiameterMaxMm)),
    row.waitingTimeS === null || row.waitingTimeS === 0 ? null : words.waiting(String(row.waitingTimeS)),
    delivery === null
      ? null
      : words.delivery(String(delivery.min), delivery.max === null ? null : String(delivery.max)),
    row.randomMl === null ? null : words.random(plainNumber(row.randomMl)),
    row.note,
  ]
    .filter((part) => part !== null)
    .join('; ');
}
