import type { Compilable, CompiledQuery, Kysely } from 'kysely';
import type { Tables } from './tables.ts';

/**
 * A query whose text is built once. The builder is given placeholders for as many values as the query takes; later calls
 * pass the values in the same order. For the few queries that every saved trial runs.
 * @throws Error when the number of values differs from the number of places in the text
 */
export const prebuilt = <Row, Values extends readonly unknown[]>(
  build: (db: Kysely<Tables>, ...values: Values) => Compilable<Row>,
): ((db: Kysely<Tables>, ...values: Values) => Promise<Row[]>) => {
  let compiled: CompiledQuery | null = null;
  return async (db, ...values) => {
    compiled ??= build(db, ...values).compile();
    if (compiled.parameters.length !== values.length)
      throw new Error(`This query has ${compiled.parameters.length} places for ${values.length} values.`);
    const { rows } = await db.executeQuery<Row>({ ...compiled, parameters: values });
    return rows;
  };
};

/** An insert whose text is built once; takes one row, all its columns named. */
export const prebuiltInsert = <Name extends keyof Tables>(
  table: Name,
  columns: readonly (keyof Tables[Name] & string)[],
): ((db: Kysely<Tables>, row: Tables[Name]) => Promise<void>) => {
  const insert = prebuilt((db, ...values: readonly unknown[]) =>
    // The builder cannot see that the names are those of the row; the type of `row` below does.
    db.insertInto(table).values(Object.fromEntries(columns.map((column, index) => [column, values[index]])) as never),
  );
  return async (db, row) => {
    await insert(db, ...columns.map((column) => row[column]));
  };
};
