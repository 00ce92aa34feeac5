/** Settings from the environment; everything has a default that works on a fresh machine. */
export interface Config {
  host: string;
  port: number;
  dataFolder: string;
}

export class BadConfig extends Error {}

export const readConfig = (environment: NodeJS.ProcessEnv): Config => {
  const port = environment['PORT'] === undefined || environment['PORT'] === '' ? 4180 : Number(environment['PORT']);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new BadConfig(`PORT is "${environment['PORT']}"; it must be a whole number from 0 to 65535.`);
  return {
    host: environment['HOST'] || '127.0.0.1',
    port,
    dataFolder: environment['TAREBOOK_DATA'] || './data',
  };
};
