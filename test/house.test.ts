/** The rules of the house that a machine can keep: sizes, words, names, places. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
/** Every file that is or would be committed. */
const files = execFileSync('git', ['ls-files', '-z', '--cached', '--others', '--exclude-standard'], { cwd: root })
  .toString('utf8')
  .split('\0')
  .filter((file) => file !== '' && existsSync(join(root, file)))
  .filter((file, index, all) => all.indexOf(file) === index);
const read = (file: string): string => readFileSync(join(root, file), 'utf8');

const isCode = (file: string): boolean => /\.(tsx?|mjs|cjs|js)$/.test(file);
const within = (...folders: string[]) =>
  files.filter((file) => isCode(file) && folders.includes(file.split('/')[0] ?? ''));
const program = within('server', 'web', 'migrations');
const code = within('server', 'web', 'migrations', 'test', '.build');

/** Lines as `file:line`, so that a failing test names the place. */
function places(candidates: readonly string[], pattern: RegExp): string[] {
  return candidates.flatMap((file) =>
    read(file)
      .split('\n')
      .flatMap((line, index) => (pattern.test(line) ? [`${file}:${index + 1} ${line.trim()}`] : [])),
  );
}

/** All nodes of a source file for which `wanted` says something; the answer is put behind the place. */
function nodes(file: string, wanted: (node: ts.Node, source: ts.SourceFile) => string | undefined): string[] {
  const kind = file.endsWith('x') ? ts.ScriptKind.TSX : undefined;
  const source = ts.createSourceFile(file, read(file), ts.ScriptTarget.Latest, true, kind);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const said = wanted(node, source);
    if (said !== undefined) found.push(`${file}:${lineOf(source, node.getStart(source)) + 1} ${said}`);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

const lineOf = (source: ts.SourceFile, position: number): number => source.getLineAndCharacterOfPosition(position).line;

it('has read the house', () => {
  expect(program.filter((file) => file.startsWith('server/')).length).toBeGreaterThan(20);
  expect(program.filter((file) => file.startsWith('web/')).length).toBeGreaterThan(10);
  expect(code.filter((file) => file.startsWith('test/')).length).toBeGreaterThan(10);
});

describe('sizes', () => {
  it('keeps every file of the program under 400 lines, but for the text of a language, which is one list', () => {
    const files = program.filter((file) => !file.startsWith('web/messages/'));
    expect(files.filter((file) => read(file).split('\n').length > 400)).toEqual([]);
  });

  it('keeps every function of the program within 70 lines', () => {
    const long = within('server', 'web').flatMap((file) =>
      nodes(file, (node, source) => {
        if (!ts.isFunctionLike(node) || !('body' in node)) return undefined;
        const lines = lineOf(source, node.getEnd()) - lineOf(source, node.getStart(source)) + 1;
        return lines > 70 ? `${lines} lines` : undefined;
      }),
    );
    expect(long).toEqual([]);
  });
});

describe('words', () => {
  // Put together here, so that this file does not hold what it looks for.
  const left = ['TO' + 'DO', 'FIX' + 'ME', 'X' + 'XX', '@ts-' + 'ignore', '@ts-' + 'nocheck', 'eslint-' + 'disable'];

  it('leaves nothing open and switches no check off', () => {
    expect(places(code, new RegExp(left.map((word) => `${word}\\b`).join('|')))).toEqual([]);
  });

  it('has no untyped value', () => {
    const untyped = code
      .filter((file) => /\.tsx?$/.test(file))
      .flatMap((file) => nodes(file, (node) => (node.kind === ts.SyntaxKind.AnyKeyword ? 'any' : undefined)));
    expect(untyped).toEqual([]);
  });

  it('skips and singles out no test', () => {
    const ways = ['skip', 'only', 'fails', 'to' + 'do'].join('|');
    expect(places(within('test'), new RegExp(`\\b(it|test|describe)(\\.\\w+)*\\.(${ways})\\b`))).toEqual([]);
  });

  it('names no path of one machine', () => {
    const texts = files.filter(
      (file) => !/\.(png|ico|woff2|sqlite|db|zip|pdf)$/.test(file) && file !== 'package-lock.json',
    );
    const folders = ['ho' + 'me/\\w', 'Us' + 'ers/\\w', 'ro' + 'ot/', 'wo' + 'rk/', 't' + 'mp/'].join('|');
    expect(places(texts, new RegExp(`(?<![\\w.@:$}/-])(?:/(?:${folders})|[A-Z]:\\\\)`))).toEqual([]);
  });
});

describe('places', () => {
  it('holds at the top only what a newcomer looks for', () => {
    const named = ['package.json', 'package-lock.json', 'tsconfig.json', 'README.md', 'DEVELOPERS.md', 'LICENSE'];
    const allowed = new Set([...named, 'server', 'web', 'migrations', 'test', 'fixtures']);
    const top = new Set(files.map((file) => file.split('/')[0] ?? ''));
    expect([...top].filter((name) => !allowed.has(name) && !name.startsWith('.'))).toEqual([]);
  });

  it('names files in small letters with dashes', () => {
    const named = new Set(['README.md', 'DEVELOPERS.md', 'LICENSE', 'Containerfile', 'Containerfile.dockerignore']);
    expect(files.filter((file) => !named.has(basename(file)) && !/^[a-z0-9.-]+$/.test(basename(file)))).toEqual([]);
  });

  it('keeps tests out of the program', () => {
    expect(files.filter((file) => /\.test\.tsx?$/.test(file) && !file.startsWith('test/'))).toEqual([]);
  });

  it('keeps every test in the folder of what it tests, or in a folder of its own', () => {
    const rooms = new Set(within('server', 'web').map((file) => dirname(file).split('/').slice(1, 2).join('/')));
    const own = new Set(['.', 'browser', 'whole', 'server', 'web', 'migrations', 'fixtures']);
    const tests = files.filter((file) => /\.test\.tsx?$/.test(file));
    const strays = tests.filter((file) => {
      const folder = file.split('/').length > 2 ? (file.split('/')[1] ?? '') : '.';
      return !own.has(folder) && !rooms.has(folder);
    });
    expect(strays).toEqual([]);
  });
});

describe('pages', () => {
  const pages = within('web').filter((file) => !file.startsWith('web/messages/'));
  // The same in every language.
  const UNITS = /(?<!\p{L})(mL|µL|hPa|kPa|mg|kg|mm|min|Tarebook)(?!\p{L})/gu;

  it('keeps screen text in web/messages', () => {
    const spoken = new Set(['aria-label', 'alt', 'label', 'placeholder', 'title', 'hint']);
    const loose = pages
      .filter((file) => file.endsWith('.tsx'))
      .flatMap((file) =>
        nodes(file, (node, source) => {
          const text = ts.isJsxText(node) ? node.text : spokenAttribute(node, source, spoken);
          if (text === undefined || !/\p{L}{2}/u.test(text.replace(UNITS, ''))) return undefined;
          return JSON.stringify(text.trim());
        }),
      );
    expect(loose).toEqual([]);
  });

  it('takes readings in text boxes, never in number boxes, which drop letters and turn with the wheel', () => {
    expect(places(pages, /type=(["']|\{["'])number/)).toEqual([]);
  });

  it('lets no markup in as a string', () => {
    expect(places(pages, /dangerouslySetInnerHTML|\.innerHTML\s*=/)).toEqual([]);
  });
});

/** The text of an attribute that a person hears or reads. */
function spokenAttribute(node: ts.Node, source: ts.SourceFile, spoken: ReadonlySet<string>): string | undefined {
  if (!ts.isJsxAttribute(node) || !spoken.has(node.name.getText(source))) return undefined;
  return node.initializer && ts.isStringLiteral(node.initializer) ? node.initializer.text : undefined;
}
