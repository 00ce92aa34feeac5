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
