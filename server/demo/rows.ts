/** The demonstration's tables, as fixtures/demo keeps them: cells without comma, quote or line break. */
import { readFileSync } from 'node:fs';

export type Row = Readonly<Record<string, string>>;

export interface DemoTables {
  vessels: Row[];
  lots: Row[];
  rounds: Row[];
  roundTrials: Row[];
  lotActs: Row[];
  instruments: Row[];
  calibrations: Row[];
  trials: Row[];
  acts: Row[];
  people: Row[];
  confirmations: Row[];
  papers: Row[];
}

/** @throws Error for a line with more or fewer cells than the first */
export const rowsOf = (text: string): Row[] => {
  const [head = '', ...lines] = text.split('\n').filter((line) => line !== '');
  const columns = head.split(',');
  return lines.map((line) => {
    const cells = line.split(',');
    if (cells.length !== columns.length)
      throw new Error(`A line has ${cells.length} cells instead of ${columns.length}: ${line}`);
    return Object.fromEntries(columns.map((column, index) => [column, cells[index] ?? '']));
  });
};

/** From the source as well as from the built program: both have the tables two folders up. */
const FOLDER = new URL('../../fixtures/demo/', import.meta.url);

export const readDemoTables = (): DemoTables => {
  const read = (name: string): Row[] => rowsOf(readFileSync(new URL(name, FOLDER), 'utf8'));
  return {
    vessels: read('vessels.csv'),
    lots: read('lots.csv'),
    rounds: read('rounds.csv'),
    roundTrials: read('round-trials.csv'),
    lotActs: read('lot-acts.csv'),
    instruments: read('instruments.csv'),
    calibrations: read('calibrations.csv'),
    trials: read('trials.csv'),
    acts: read('acts.csv'),
    people: read('people.csv'),
    confirmations: read('confirmations.csv'),
    papers: read('papers.csv'),
  };
};
