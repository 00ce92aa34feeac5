/**
 * What saving a trial over HTTP costs at the least: one fastify route, one INSERT, one COMMIT, answered after it. The
 * file is as durable as the logbook's: write-ahead log, synchronous FULL.
 */
import Database from 'better-sqlite3';
import Fastify from 'fastify';
import { join } from 'node:path';

const [folder = '.', port = '0'] = process.argv.slice(2);

const handle = new Database(join(folder, 'bare.sqlite'));
handle.pragma('journal_mode = wal');
handle.pragma('synchronous = full');
handle.exec(
  `create table trial (
     number integer primary key, request_key text not null, point_ml text not null,
     empty_g text not null, filled_g text not null, water_temperature_c text not null
   ) strict`,
);
const insert = handle.prepare<[string, string, string, string, string]>(
  'insert into trial (request_key, point_ml, empty_g, filled_g, water_temperature_c) values (?, ?, ?, ?, ?)',
);

interface Body {
  pointMl: string;
  emptyG: string;
  filledG: string;
  waterTemperatureC: string;
}

const app = Fastify();
app.get('/health', () => ({ status: 'ok' }));
app.post<{ Body: Body }>('/trials', (request, reply) => {
  const { pointMl, emptyG, filledG, waterTemperatureC } = request.body;
  const key = String(request.headers['idempotency-key']);
  const { lastInsertRowid } = insert.run(key, pointMl, emptyG, filledG, waterTemperatureC);
  return reply.code(201).send({ number: Number(lastInsertRowid) });
});
process.once('SIGTERM', () => void app.close().then(() => handle.close()));
await app.listen({ host: '127.0.0.1', port: Number(port) });
