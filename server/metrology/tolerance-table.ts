/** The tolerance table itself. Pages get rows from the server; nothing else here imports this. */
import table from '../../fixtures/tables/tolerances.json' with { type: 'json' };
import type { ToleranceRow } from './tolerance.ts';

export interface ToleranceSource {
  title: string;
  kind: string;
  /** What of it was read. */
  seen: string;
}

export interface ToleranceStandard {
  id: string;
  title: string;
  edition: string;
  note: string;
}

/** Rows in the order of the table. */
export const toleranceRows: readonly ToleranceRow[] = table.rows as readonly ToleranceRow[];

/** Sources by the keys that rows name. */
export const toleranceSources: Readonly<Record<string, ToleranceSource>> = table.sources;

export const toleranceStandards: readonly ToleranceStandard[] = table.standards;

export const toleranceTableVersion: string = table.version;
