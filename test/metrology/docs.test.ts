import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { CLASS_FINDINGS } from '../../server/metrology/class/findings.ts';
import { FINDINGS } from '../../server/metrology/findings.ts';
import { SOURCES } from '../../server/metrology/sources.ts';

const folder = new URL('../../server/metrology/', import.meta.url);
const files = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => ({ name, text: readFileSync(new URL(name, folder), 'utf8') }));

/** Files whose exported functions are formulas; in the others a function may parse, gather or word. */
const FORMULA_FILES = [
  'air-density.ts',
  'balance-components.ts',
  'capability.ts',
  'class/choose.ts',
  'class/compare.ts',
  'class/crossed.ts',
  'class/drops.ts',
  'class/explain-class.ts',
  'class/f-tail.ts',
  'class/figures.ts',
  'class/limits.ts',
  'class/one-way.ts',
  'class/questions.ts',
  'class/suspect.ts',
  'class/warm-water.ts',
  'component.ts',
  'coverage.ts',
  'delivery-times.ts',
  'difference.ts',
  'display.ts',
  'explain-budget.ts',
  'explain.ts',
  'explain-point.ts',
  'fluid-components.ts',
  'meniscus.ts',
  'monte-carlo.ts',
  'one-more.ts',
  'outlier.ts',
  'over-time/acceptance.ts',
  'over-time/change.ts',
  'over-time/control-chart.ts',
  'over-time/distribution.ts',
  'over-time/en.ts',
  'over-time/interval.ts',
  'over-time/trend.ts',
  'piston-balance.ts',
  'points-proposed.ts',
  'random-error.ts',
  'reading-mark.ts',
  'referee-model.ts',
  'referee.ts',
  'repeatability.ts',
  'selection.ts',
  'sensitivity.ts',
  'uncertainty.ts',
  'vessel-components.ts',
  'water-in-use.ts',
  'atmosphere.ts',
  'class-met.ts',
  'corrections.ts',
  'statistics.ts',
  'verdict.ts',
  'volume.ts',
  'water-density.ts',
];

/** Exported functions that state no formula. */
const NO_FORMULA = new Set([
  'airFormulaExtrapolated',
  'checkAnswer',
  'chooseRepeatability',
  'correctionTable',
  'decimalsFor',
  'decimalsForTolerance',
  'fixed',
  'scientific',
  'signed',
  'significant',
  'withTrueMinus',
  'withoutTrial',
  'leaf',
  'lineOf',
  'normal',
  'pooledChoice',
  'readingMark',
  'rectangular',
  'resolutionG',
  'roundedText',
]);

/** Exported functions with the doc block right above them. */
function exportedFunctions(text: string): { name: string; doc: string }[] {
  const pattern = /(?:\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*)?^export function (\w+)/gm;
  return [...text.matchAll(pattern)].map((match) => ({ name: match[2] ?? '', doc: match[1] ?? '' }));
}

const cited = files.flatMap(({ name, text }) =>
  [...text.matchAll(/@source ([\w-]+)/g)].map((match) => ({ file: name, key: match[1] ?? '' })),
);

describe('sources of formulas', () => {
  const formulas = FORMULA_FILES.flatMap((name) => {
    const file = files.find((one) => one.name === name);
    if (file === undefined) throw new Error(`${name} is missing`);
    return exportedFunctions(file.text).map((one) => ({ ...one, file: name }));
  }).filter(({ name }) => !NO_FORMULA.has(name));

  it('are looked for in many functions', () => expect(formulas.length).toBeGreaterThan(40));

  it.each(formulas)('$file $name names its source and place', ({ doc }) => {
    expect(doc).toMatch(/@source [\w-]+, \S/);
  });

  it('are known works', () => {
    for (const { file, key } of cited) {
      expect(key === 'common-practice' || key in SOURCES, `${key} in ${file}`).toBe(true);
    }
  });

  it('are all used', () => {
    const everything = files
      .filter(({ name }) => name !== 'sources.ts')
      .map(({ text }) => text)
      .join('\n');
    const unused = Object.keys(SOURCES).filter((key) => !new RegExp(`(@source |')${key}[,']`).test(everything));
    expect(unused).toEqual([]);
  });

  it('are complete', () => {
    for (const work of Object.values(SOURCES)) {
      expect(work.authors.length * work.title.length * work.place.length).toBeGreaterThan(0);
      expect(work.year).toBeGreaterThan(1900);
    }
  });
});

// Those about an issued result are made where it is looked at again.
const CERTIFICATES = new URL('../../server/certificates/', import.meta.url);
// Those about a solution are made where its vessels and its stock are looked up.
const SOLUTIONS = new URL('../../server/solutions/', import.meta.url);

describe('findings', () => {
  const code = files
    .filter(({ name }) => name !== 'findings.ts')
    .map(({ text }) => text)
    .concat(['differences.ts', 'view.ts'].map((name) => readFileSync(new URL(name, CERTIFICATES), 'utf8')))
    .concat(
      readdirSync(SOLUTIONS)
        .filter((name) => name.endsWith('.ts'))
        .map((name) => readFileSync(new URL(name, SOLUTIONS), 'utf8')),
    )
    .join('\n');

  it('are each made somewhere', () => {
    const unused = Object.keys(FINDINGS).filter((name) => !code.includes(`'${name}'`));
    expect(unused).toEqual([]);
  });

  it('about a class are each made somewhere', () => {
    const made = files.filter(({ name }) => name !== 'class/findings.ts' && name.startsWith('class/'));
    const text = made.map((file) => file.text).join('\n');
    expect(Object.keys(CLASS_FINDINGS).filter((name) => !text.includes(`'${name}'`))).toEqual([]);
  });
});

describe('the first page of a browser', () => {
  it('loads no quantiles with what it needs while somebody types', () => {
    const seen = new Set<string>();
    const walk = (name: string) => {
      if (seen.has(name)) return;
      seen.add(name);
      const text = files.find((file) => file.name === name)?.text ?? '';
      expect(text, name).not.toMatch(/from '@stdlib/);
      expect(text, name).not.toMatch(/from '.*\.json'/);
      for (const match of text.matchAll(/^import (?!type)[^;]*from '\.\/([\w-]+\.ts)'/gm)) walk(match[1] ?? '');
    };
    for (const entry of ['trial.ts', 'questions.ts', 'statistics.ts', 'verdict.ts', 'tolerance.ts']) walk(entry);
    expect(seen.size).toBeGreaterThan(10);
  });
});
