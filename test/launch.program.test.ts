/** Starting from sources, on a small house of its own with the real launcher and build. */
import { spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
const BUILDING = 'Building Tarebook (first start or changed sources)…';

let house = '';

beforeEach(() => {
  house = mkdtempSync(join(tmpdir(), 'tarebook-launch-'));
  for (const path of ['.build', 'server/launch.mjs', 'tsconfig.json', 'package.json', 'package-lock.json']) {
    cpSync(join(root, path), join(house, path), { recursive: true });
  }
  symlinkSync(join(root, 'node_modules'), join(house, 'node_modules'), 'junction');
  write('migrations/0001-first.ts', 'export const first = 1;\n');
  write('fixtures/tables/table.csv', '1,2\n');
  write('server/words.txt', 'read at run time\n');
  write('server/commands/main.ts', "process.stdout.write(`word ${process.argv.slice(2).join(' ')}\\n`);\n");
  write(
    'server/main.ts',
    `const waiting = setInterval(() => undefined, 1000);
process.once('SIGTERM', () => {
  process.stdout.write('closed in order\\n');
  clearInterval(waiting);
});
process.stdout.write('serving\\n');
`,
  );
  write('web/index.html', '<!doctype html><script type="module" src="./main.ts"></script>\n');
  write('web/main.ts', "document.title = 'page';\n");
  write('web/vite.config.ts', 'export default { root: import.meta.dirname };\n');
});

afterEach(() => {
  rmSync(house, { recursive: true, force: true, maxRetries: 3 });
});

describe('npm run tarebook', () => {
  it('builds the server alone on the first run, and nothing on the next', async () => {
    const first = await launch('tarebook', 'verify', '--all');
    expect(first).toEqual({ code: 0, said: 'word verify --all\n', warned: `${BUILDING}\n` });
    expect(readdirSync(join(house, '.dist')).sort()).toEqual([
      'fixtures',
      'libraries',
      'migrations',
      'server',
      'server.stamp',
    ]);
    expect(existsSync(join(house, '.dist/server/words.txt'))).toBe(true);
    expect(existsSync(join(house, '.dist/fixtures/tables/table.csv'))).toBe(true);
    expect(await launch('tarebook', 'verify')).toEqual({ code: 0, said: 'word verify\n', warned: '' });
  });

  it('builds again when a source changed or went, and leaves nothing of the one that went', async () => {
    write('server/old.ts', 'export const old = 1;\n');
    await launch('tarebook', 'verify');
    write('server/commands/main.ts', "process.stdout.write('changed\\n');\n");
    expect(await launch('tarebook', 'verify')).toEqual({ code: 0, said: 'changed\n', warned: `${BUILDING}\n` });
    rmSync(join(house, 'server/old.ts'));
    expect((await launch('tarebook', 'verify')).warned).toBe(`${BUILDING}\n`);
    expect(existsSync(join(house, '.dist/server/old.js'))).toBe(false);
  });

  it('says what the compiler says, runs nothing, and keeps no stamp when the build fails', async () => {
    await launch('tarebook', 'verify');
    write('server/commands/main.ts', "export const massG: number = 'heavy';\n");
    for (const attempt of ['first', 'second']) {
      const failed = await launch('tarebook', attempt);
      expect(failed.code).toBe(1);
      expect(failed.said).toBe('');
      expect(failed.warned).toContain("server/commands/main.ts(1,14): error TS2322: Type 'string' is not assignable");
    }
    write('server/commands/main.ts', "process.stdout.write('mended\\n');\n");
    expect((await launch('tarebook', 'verify')).said).toBe('mended\n');
    expect(readdirSync(house).filter((name) => name.startsWith('.dist-'))).toEqual([]);
  });

  it('is right when two start at once', async () => {
    const both = await Promise.all([launch('tarebook', 'one'), launch('tarebook', 'two')]);
    expect(both.map(({ code, said }) => ({ code, said }))).toEqual([
      { code: 0, said: 'word one\n' },
      { code: 0, said: 'word two\n' },
    ]);
  });

  it('asks for the packages where they are missing', async () => {
    rmSync(join(house, 'node_modules'), { recursive: true });
    const failed = await launch('tarebook', 'verify');
    expect(failed.code).toBe(1);
    expect(failed.warned).toContain('Run "npm ci" first.');
  });
});

describe('npm start', () => {
  // Windows has no signals to send to another program.
  const endsInOrder = process.platform === 'win32' ? '' : 'closed in order\n';

  it('builds server and pages, serves, and hands the signal on', async () => {
    const { said, warned } = await launch('start');
    expect(warned).toBe(`${BUILDING}\n`);
    expect(said).toBe(`serving\n${endsInOrder}`);
    expect(existsSync(join(house, '.dist/pages/index.html'))).toBe(true);
  });

  it('refuses any other word', async () => {
    const refused = await launch('stop');
    expect(refused.code).toBe(1);
    expect(refused.warned).toContain('npm start');
  });
});

function write(path: string, text: string): void {
  mkdirSync(dirname(join(house, path)), { recursive: true });
  writeFileSync(join(house, path), text);
}

/** Runs the launcher to its end; a server that serves is told to end. */
function launch(...words: string[]): Promise<{ code: number | null; said: string; warned: string }> {
  const child = spawn(process.execPath, [join(house, 'server/launch.mjs'), ...words], { cwd: house });
  let said = '';
  let warned = '';
  child.stdout.on('data', (chunk: Buffer) => {
    said += chunk.toString('utf8');
    if (said === 'serving\n') child.kill('SIGTERM');
  });
  child.stderr.on('data', (chunk: Buffer) => (warned += chunk.toString('utf8')));
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', (code) => {
      resolve({ code, said, warned });
    });
  });
}
