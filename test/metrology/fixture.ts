import { readFileSync } from 'node:fs';

function read(path: string): string {
  return readFileSync(new URL(`../../fixtures/${path}`, import.meta.url), 'utf8');
}

/** Rows of a table as printed: lines that begin with `#` say where it comes from. */
export function readTable(name: string): Record<string, string>[] {
  const lines = read(`tables/${name}`)
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'));
  const [head, ...body] = lines.map((line) => line.split(','));
  if (head === undefined || body.length === 0) throw new Error(`${name} is empty`);
  return body.map((cells) => Object.fromEntries(head.map((column, index) => [column, cells[index] ?? ''])));
}

export function readJson(path: string): unknown {
  return JSON.parse(read(path));
}

/** A cell that must be there. */
export function cell(row: Record<string, string>, column: string): string {
  const text = row[column];
  if (text === undefined) throw new Error(`no column ${column}`);
  return text;
}

export function number(row: Record<string, string>, column: string): number {
  return Number(cell(row, column));
}

/** Half a unit of the last printed digit, and the double's own last bit. */
export function halfDigit(printed: string): number {
  const decimals = printed.split('.')[1]?.length ?? 0;
  return 0.5 * 10 ** -decimals + 1e-12;
}

export interface WorkedExample {
  id: string;
  source: string;
  sourceKind: 'named source' | 'common practice, no source';
  inputs: Record<string, unknown>;
  expected: Record<string, unknown>;
}

export function workedExample(id: string): WorkedExample {
  const all = readJson('examples/worked-examples.json') as WorkedExample[];
  const found = all.find((example) => example.id === id);
  if (found === undefined) throw new Error(`no worked example ${id}`);
  return found;
}

/** A number of a worked example. */
export function valueOf(group: Record<string, unknown>, key: string): number {
  const value = group[key];
  if (typeof value !== 'number') throw new Error(`${key} is no number`);
  return value;
}
