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
import { ConfirmationOfRow } from './confirmation.tsx';
import { useAllTolerances } from './data.ts';
import { AlignedNumber, mostDecimals, plainNumber, RoomHeader, WideTable } from './parts.tsx';

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

const classesOf = (rows: readonly ToleranceRowOnWire[]): ToleranceRowOnWire[][] =>
  [...new Set(rows.map((row) => row.class))].map((one) => rows.filter((row) => row.class === one));

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
  const columns = columnsOf(rows);
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
        <ColumnHeads columns={columns} />
        {classesOf(rows).map((ofClass) => (
          <tbody key={ofClass[0]?.class}>
            {ofClass.map((row) => (
              <Row key={`${row.nominalVolumeMl} ${row.divisionMl} ${row.note}`} row={row} columns={columns} />
            ))}
          </tbody>
        ))}
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

interface Columns {
  volume: number;
  division: number | null;
  limit: number;
}

/** Digits behind the mark in each column; a column of divisions only where there are some. */
const columnsOf = (rows: readonly ToleranceRowOnWire[]): Columns => ({
  volume: mostDecimals(rows.map((row) => row.nominalVolumeMl)),
  division: rows.some((row) => row.divisionMl !== null) ? mostDecimals(rows.map((row) => row.divisionMl)) : null,
  limit: mostDecimals(rows.map((row) => row.toleranceMl)),
});

function ColumnHeads({ columns }: { columns: Columns }) {
  const names = words.columns;
  return (
    <thead>
      <tr>
        <th scope="col">{names.class}</th>
        <th scope="col" className="number">
          {names.volume}
        </th>
        {columns.division !== null && (
          <th scope="col" className="number">
            {names.division}
          </th>
        )}
        <th scope="col" className="number">
          {names.limit}
        </th>
        <th scope="col">{names.checked}</th>
        <th scope="col">{names.basis}</th>
        <th scope="col">{names.more}</th>
      </tr>
    </thead>
  );
}

function Row({ row, columns }: { row: ToleranceRowOnWire; columns: Columns }) {
  const { nominalVolumeMl, divisionMl } = row;
  return (
    <tr>
      <th scope="row">{row.class === NO_CLASS ? words.noClass : row.class}</th>
      <td className="number">
        {nominalVolumeMl === null ? words.anySize : <AlignedNumber value={nominalVolumeMl} decimals={columns.volume} />}
      </td>
      {columns.division !== null && (
        <td className="number">
          {divisionMl !== null && <AlignedNumber value={divisionMl} decimals={columns.division} />}
        </td>
      )}
      <td className="number">
        <Limit row={row} decimals={columns.limit} />
      </td>
      <td>
        <CheckMark check={checkOf(row)} />
        <ConfirmationOfRow row={row} />
      </td>
      <td>{row.basis === 'either' ? words.either : text.words.basesShort[row.basis]}</td>
      <td className="tolerance-more">{moreOf(row)}</td>
    </tr>
  );
}

function Limit({ row, decimals }: { row: ToleranceRowOnWire; decimals: number }) {
  const { toleranceMl, tolerancePercent } = row;
  if (toleranceMl !== null) return <AlignedNumber value={toleranceMl} decimals={decimals} />;
  return tolerancePercent === null ? null : words.perCent(plainNumber(tolerancePercent));
}

function moreOf(row: ToleranceRowOnWire): string {
  const delivery = row.deliveryTimeS;
  return [
    row.neckDiameterMaxMm === null ? null : words.neck(String(row.neckDiameterMaxMm)),
    row.waitingTimeS === null || row.waitingTimeS === 0 ? null : words.waiting(String(row.waitingTimeS)),
    delivery === null
      ? null
      : words.delivery(String(delivery.min), delivery.max === null ? null : String(delivery.max)),
    row.toleranceMl === null || row.tolerancePercent === null
      ? null
      : words.sameInPerCent(plainNumber(row.tolerancePercent)),
    row.randomMl === null ? null : words.random(plainNumber(row.randomMl)),
    row.note,
  ]
    .filter((part) => part !== null)
    .join('; ');
}
