/** What a certificate in XML has to keep and no schema sees. */
import type { Content, Element } from './element.ts';

interface Found {
  path: string;
  name: string;
  content: string | Element;
}

/** Every element and attribute, with the way to it. */
function walk(element: Element, path = ''): Found[] {
  return Object.entries(element).flatMap(([name, content]) =>
    (Array.isArray(content) ? (content as readonly (string | Element)[]) : [content as string | Element]).flatMap(
      (one) => {
        const here = { path: `${path}/${name}`, name, content: one };
        return typeof one === 'string' ? [here] : [here, ...walk(one, here.path)];
      },
    ),
  );
}

const several = (content: Content | undefined): readonly (string | Element)[] =>
  content === undefined
    ? []
    : Array.isArray(content)
      ? (content as readonly (string | Element)[])
      : [content as Element];

const textOf = (content: Content | undefined): string => (typeof content === 'string' ? content : '');

const repeated = (values: readonly string[]): string[] => [
  ...new Set(values.filter((value, index) => values.indexOf(value) !== index)),
];

/** @returns one sentence for each thing that is wrong; none when all is right */
export function complaints(document: Element): string[] {
  const found = walk(document);
  const named = (name: string): Found[] => found.filter((one) => one.name === name);
  return [...dates(named), ...methods(named), ...references(named), ...languages(found, named), ...outdated(named)];
}

type Named = (name: string) => Found[];

function dates(named: Named): string[] {
  const begun = textOf(named('dcc:beginPerformanceDate')[0]?.content);
  const ended = textOf(named('dcc:endPerformanceDate')[0]?.content);
  return ended < begun ? [`It ended on ${ended}, before it began on ${begun}.`] : [];
}

function methods(named: Named): string[] {
  return named('dcc:measurementResult').flatMap(({ content, path }) =>
    ['dcc:usedMethods', 'dcc:influenceConditions']
      .filter((needed) => typeof content === 'string' || !(needed in content))
      .map((needed) => `${path} has no ${needed}.`),
  );
}

function references(named: Named): string[] {
  const ids = named('@id').map(({ content }) => textOf(content));
  const open = named('@refId')
    .flatMap(({ content }) => textOf(content).split(' '))
    .filter((id) => !ids.includes(id));
  return [
    ...open.map((id) => `Nothing has the id ${id}.`),
    ...repeated(ids).map((id) => `The id ${id} is there more than once.`),
  ];
}

function languages(found: readonly Found[], named: Named): string[] {
  const lists = ['dcc:usedLangCodeISO639_1', 'dcc:mandatoryLangCodeISO639_1'].flatMap((name) =>
    repeated(named(name).map(({ content }) => textOf(content))).map((code) => `${name} ${code} is there twice.`),
  );
  const texts = found.flatMap(({ content, path }) => {
    if (typeof content === 'string') return [];
    const langs = several(content['dcc:content']).map((one) => (typeof one === 'string' ? '' : textOf(one['@lang'])));
    return repeated(langs).map((lang) => `${path} says it twice in the language ${lang}.`);
  });
  return [...lists, ...texts];
}

/** The form of an uncertainty before D-SI 2. */
const outdated = (named: Named): string[] => named('si:expandedUnc').map(({ path }) => `${path} is outdated.`);
