/** What the papers beside the code promise: exact versions, scripts and settings that exist, a reason for every package. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
const read = (file: string): string => readFileSync(join(root, file), 'utf8');

interface Manifest {
  scripts: Record<string, string>;
  dependencies: Record<string, string>;
  devDependencies: Record<string, string>;
}
const manifest = JSON.parse(read('package.json')) as Manifest;
const packages = { ...manifest.dependencies, ...manifest.devDependencies };

describe('packages', () => {
  it('are pinned to exact versions', () => {
    expect(Object.entries(packages).filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  });

  it('come without download addresses in the lockfile', () => {
    expect(read('package-lock.json').match(/"resolved": *"https?:[^"]*"/g) ?? []).toEqual([]);
  });

  it('each have their reason in DEVELOPERS.md', () => {
    const named = reasonedPackages(read('DEVELOPERS.md'));
    // A @types package belongs to the package whose types it holds.
    const wanted = Object.keys(packages).filter((name) => !name.startsWith('@types/'));
    expect(wanted.filter((name) => !named.has(name))).toEqual([]);
    expect([...named].filter((name) => !(name in packages) && !name.startsWith('@types/'))).toEqual([]);
  });
});

/** First cells of the table of dependencies; `@family/name-t, -f` stands for `@family/name-t` and `@family/name-f`. */
function reasonedPackages(paper: string): Set<string> {
  const section = paper.split(/^## /m).find((part) => part.startsWith('Dependencies')) ?? '';
  const cells = [...section.matchAll(/^\| ([^|]+) \|/gm)]
    .map((match) => match[1] ?? '')
    .filter((cell) => !/^-+$/.test(cell));
  const names = new Set<string>();
  for (const cell of cells.slice(1)) {
    let family = '';
    for (const part of cell.replace(/\([^)]*\)/g, '').split(',')) {
      const name = part.trim();
      names.add(name.startsWith('-') ? family + name : name);
      if (!name.startsWith('-')) family = name.replace(/-[^-]*$/, '');
    }
  }
  names.delete('---');
  return names;
}

describe('README.md and DEVELOPERS.md', () => {
  const papers = `${read('README.md')}\n${read('DEVELOPERS.md')}`;

  it('name only scripts that exist', () => {
    const named = [...papers.matchAll(/npm run ([a-z][\w:-]*)/g)].map((match) => match[1] ?? '');
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter((name) => !(name in manifest.scripts))).toEqual([]);
  });

  it('name every setting the program reads from its environment, and no other', () => {
    const sources = execFileSync('git', ['ls-files', '-z', '--cached', '--others', '--exclude-standard', 'server'], {
      cwd: root,
    });
    const text = sources
      .toString('utf8')
      .split('\0')
      .filter((file) => file.endsWith('.ts'))
      .map(read)
      .join('\n');
    const SETTING = /\bTAREBOOK_[A-Z_]+\b/g;
    const settings = (from: string) => [...new Set(from.match(SETTING) ?? [])].sort();
    expect(settings(text).length).toBeGreaterThan(0);
    expect(settings(papers).filter((name) => name !== 'TAREBOOK_CHROMIUM')).toEqual(settings(text));
  });
});
