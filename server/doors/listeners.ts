/** Where the server listens, and whether that is safe to do. */
import { readFileSync } from 'node:fs';
import { networkInterfaces } from 'node:os';
import { createSecureContext } from 'node:tls';
import type { AddressInfo } from 'node:net';
import type { App } from '../app.ts';
import { BadConfig, type Config } from '../config.ts';
import { openClassDoor } from './class-door.ts';

export interface Tls {
  cert: Buffer;
  key: Buffer;
}

const read = (variable: string, file: string): Buffer => {
  try {
    return readFileSync(file);
  } catch {
    throw new BadConfig(`${variable} names ${file}, which cannot be read.`);
  }
};

const LOOPBACK = /^(?:localhost|127\.\d+\.\d+\.\d+|::1|\[::1\])$/i;
export const isLoopback = (host: string): boolean => LOOPBACK.test(host);

/**
 * @returns certificate and key, or null over plain http
 * @throws BadConfig when the files are not good, or when passphrases would travel in the open without anybody wanting it
 */
export const checkDoors = ({ host, certFile, keyFile, plainHttp }: Config): Tls | null => {
  if ((certFile === null) !== (keyFile === null))
    throw new BadConfig('TAREBOOK_CERT and TAREBOOK_KEY belong together: set both, or neither.');
  if (certFile === null || keyFile === null) {
    if (isLoopback(host) || plainHttp) return null;
    throw new BadConfig(
      `HOST is ${host}, which other machines reach: set TAREBOOK_CERT and TAREBOOK_KEY, or TAREBOOK_PLAIN_HTTP=1 to let passphrases travel unencrypted.`,
    );
  }
  const tls = { cert: read('TAREBOOK_CERT', certFile), key: read('TAREBOOK_KEY', keyFile) };
  try {
    createSecureContext(tls);
  } catch {
    throw new BadConfig(
      `TAREBOOK_CERT (${certFile}) and TAREBOOK_KEY (${keyFile}) are not a PEM certificate and its key.`,
    );
  }
  return tls;
};

const EVERY_ADDRESS = new Set(['0.0.0.0', '::']);

/** An address of this machine that phones in the same network reach. */
const ownAddress = (): string | undefined =>
  Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .find(({ internal, family }) => !internal && family === 'IPv4')?.address;

/** @returns the addresses as a browser types them; closing the app closes both */
export const openListeners = async (app: App, config: Config): Promise<{ staff: string; students: string | null }> => {
  const staff = await app.listen({ host: config.host, port: config.port });
  if (config.classHost === null) return { staff, students: null };
  const door = await openClassDoor(app, config.classHost, config.classPort);
  app.beforeClosing.push(() => {
    door.close();
    door.closeAllConnections();
  });
  const { port } = door.address() as AddressInfo;
  const host = config.classHost.includes(':') ? `[${config.classHost}]` : config.classHost;
  app.classDoor.address = `http://${EVERY_ADDRESS.has(config.classHost) ? (ownAddress() ?? host) : host}:${port}`;
  return { staff, students: `http://${host}:${port}` };
};
