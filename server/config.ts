/** Settings from the environment; everything has a default that works on a fresh machine. */
export interface Config {
  host: string;
  port: number;
  dataFolder: string;
  /** Fixes the one-time code of the set-up, for installations by script. */
  setupCode: string | null;
  /** Certificate and key of TLS, as PEM files. */
  certFile: string | null;
  keyFile: string | null;
  /** Staff pages may travel unencrypted beyond this machine. */
  plainHttp: boolean;
  /** Where the listener for classes is; null without one. */
  classHost: string | null;
  classPort: number;
}

export class BadConfig extends Error {}

const portOf = (environment: NodeJS.ProcessEnv, name: string, otherwise: number): number => {
  const typed = environment[name];
  const port = typed === undefined || typed === '' ? otherwise : Number(typed);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new BadConfig(`${name} is "${typed}"; it must be a whole number from 0 to 65535.`);
  return port;
};

export const readConfig = (environment: NodeJS.ProcessEnv): Config => {
  const text = (name: string): string | null => environment[name]?.trim() || null;
  const port = portOf(environment, 'PORT', 4180);
  const classPort = portOf(environment, 'TAREBOOK_CLASS_PORT', 4181);
  const setupCode = text('TAREBOOK_SETUP_CODE');
  if (setupCode !== null && !/[\p{L}\p{N}]/u.test(setupCode))
    throw new BadConfig('TAREBOOK_SETUP_CODE holds no letter and no digit.');
  const plain = text('TAREBOOK_PLAIN_HTTP');
  if (plain !== null && plain !== '1' && plain !== '0')
    throw new BadConfig(`TAREBOOK_PLAIN_HTTP is "${plain}"; it is 1 to allow plain http beyond this machine, or 0.`);
  return {
    host: text('HOST') ?? '127.0.0.1',
    port,
    dataFolder: environment['TAREBOOK_DATA'] || './data',
    setupCode,
    certFile: text('TAREBOOK_CERT'),
    keyFile: text('TAREBOOK_KEY'),
    plainHttp: plain === '1',
    classHost: text('TAREBOOK_CLASS_HOST') ?? (text('TAREBOOK_CLASS_PORT') === null ? null : '127.0.0.1'),
    classPort,
  };
};
