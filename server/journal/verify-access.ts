/**
 * Who may do what, against the acts that let them: whoever is made a keeper in the file could then change the rest by
 * the program's own hand. Passphrases and tokens are no part of the journal and are not looked at.
 */
import type { Handle } from '../db/connection.ts';
import type { JournalValue } from './canonical.ts';
import { fieldsOf, idOf, type Fields, type ReadEntry } from './verify-entry.ts';

interface Register {
  table: string;
  acts: readonly string[];
  /** Field of the entry → column of the row. */
  columns: Record<string, string>;
}

const AUTHORSHIP = { recordedAt: 'recorded_at', recordedBy: 'recorded_by' };

const REGISTERS: readonly Register[] = [
  {
    table: 'person',
    acts: ['set-up', 'person-added', 'person-changed'],
    columns: { ...AUTHORSHIP, name: 'name', role: 'role', mayIssue: 'may_issue', active: 'active' },
  },
  {
    table: 'program_key',
    acts: ['key-added', 'key-revoked'],
    columns: { ...AUTHORSHIP, name: 'name', scope: 'scope', expiresOn: 'expires_on', revoked: 'revoked' },
  },
];

type Row = Record<string, string | number | null>;

/** Rows hold yes and no as 1 and 0. */
const asStored = (value: JournalValue): JournalValue => (typeof value === 'boolean' ? Number(value) : value);

export class AccessCheck {
  /** What was last told of each, by table and id. */
  readonly #told = new Map<string, Map<string, Fields>>(REGISTERS.map(({ table }) => [table, new Map()]));

  take(entry: ReadEntry): void {
    const register = REGISTERS.find(({ acts }) => acts.includes(entry.act));
    const known = register && this.#told.get(register.table);
    const first = { recordedAt: entry.at, recordedBy: entry.actor, active: true };
    known?.set(idOf(entry), { ...first, ...known.get(idOf(entry)), ...fieldsOf(entry.after) });
  }

  /** @returns a sentence where somebody may do more, or less, than the journal tells of */
  fault(handle: Handle): string | null {
    for (const register of REGISTERS) {
      const rows = handle.prepare<[], Row>(`select * from ${register.table}`).all();
      const found = this.#faultIn(register, new Map(rows.map((row) => [String(row['id']), row])));
      if (found !== null) return found;
    }
    return null;
  }

  #faultIn({ table, columns }: Register, rows: ReadonlyMap<string, Row>): string | null {
    const told = this.#told.get(table) ?? new Map<string, Fields>();
    for (const id of told.keys()) if (!rows.has(id)) return `The table ${table} no longer holds ${id}.`;
    for (const [id, row] of rows) {
      const facts = told.get(id);
      if (!facts) return `The table ${table} holds ${id}, but no entry tells of it.`;
      for (const [field, column] of Object.entries(columns)) {
        const value = facts[field];
        if (value !== undefined && row[column] !== asStored(value))
          return `The table ${table} holds another ${column} of ${id} than the journal tells of.`;
      }
    }
    return null;
  }
}
