/** People at a server under test, each at a browser of their own that keeps its cookies. */
import type { Role, Scope } from '../../server/people/contract.ts';
import { freshKey, idOf, SETUP_CODE, type Reply, type TestServer } from '../server/support.ts';

export const PASSPHRASE = 'seven wet funnels';
type Method = 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE';

export class Browser {
  readonly server: TestServer;
  readonly cookies = new Map<string, string>();
  address = '127.0.0.1';
  headers: Record<string, string> = {};
  /** Attributes of the cookies of the last answer, as sent. */
  lastCookies: string[] = [];

  constructor(server: TestServer) {
    this.server = server;
  }

  async send(method: Method, url: string, body?: unknown, headers: Record<string, string> = {}): Promise<Reply> {
    const cookie = [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
    const response = await this.server.app.inject({
      method,
      url,
      remoteAddress: this.address,
      headers: {
        ...(method === 'POST' ? { 'idempotency-key': freshKey() } : {}),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...(cookie === '' ? {} : { cookie }),
        ...this.headers,
        ...headers,
      },
      ...(body === undefined ? {} : { payload: JSON.stringify(body) }),
    });
    this.lastCookies = [response.headers['set-cookie'] ?? []].flat();
    for (const { name, value } of response.cookies) {
      if (value === '') this.cookies.delete(name);
      else this.cookies.set(name, value);
    }
    return { status: response.statusCode, headers: response.headers, body: parsed(response.body) };
  }

  get(url: string): Promise<Reply> {
    return this.send('GET', url);
  }
  post(url: string, body?: unknown, headers?: Record<string, string>): Promise<Reply> {
    return this.send('POST', url, body, headers);
  }
  patch(url: string, version: number, body: unknown): Promise<Reply> {
    return this.send('PATCH', url, body, { 'if-match': `"${version}"` });
  }
  signIn(name: string, password = PASSPHRASE, more: object = {}): Promise<Reply> {
    return this.post('/api/session', { name, password, ...more });
  }
  async whoAmI(): Promise<string | null> {
    const { person } = (await this.get('/api/session')).body as { person: { name: string } | null };
    return person?.name ?? null;
  }
}

const parsed = (text: string): Record<string, unknown> => {
  try {
    return JSON.parse(text) as Record<string, unknown>;
  } catch {
    return {};
  }
};

/** Makes the first keeper. @returns the browser they are signed in at */
export const setUp = async (server: TestServer, name = 'Ada Keeper'): Promise<Browser> => {
  const browser = new Browser(server);
  const reply = await browser.post('/api/setup', { code: SETUP_CODE, name, password: PASSPHRASE });
  idOf(reply);
  return browser;
};

/** Adds somebody and signs them in with their one-time code. */
export const addPerson = async (
  keeper: Browser,
  name: string,
  role: Role,
  mayIssue = false,
): Promise<{ id: string; browser: Browser }> => {
  const id = idOf(await keeper.post('/api/people', { name, role, mayIssue }));
  const { code } = (await keeper.post(`/api/people/${id}/code`)).body;
  const browser = new Browser(keeper.server);
  const reply = await browser.signIn(name, PASSPHRASE, { code });
  if (reply.status !== 200) throw new Error(JSON.stringify(reply.body));
  return { id, browser };
};

export const addKey = async (keeper: Browser, name: string, scope: Scope, facts: object = {}) => {
  const id = idOf(await keeper.post('/api/keys', { name, scope, ...facts }));
  const { token } = (await keeper.post(`/api/keys/${id}/token`)).body as { token: string };
  const browser = new Browser(keeper.server);
  browser.headers = { authorization: `Bearer ${token}` };
  return { id, token, browser };
};
