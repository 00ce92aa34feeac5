/**
 * `npm run bench [-- group …] [--json]`: measures against the targets of the house; the group
 * `size` only when it is named. With --json each measure is one line
 * of JSON on stdout; without, a table. Ends non-zero when a target is missed.
 */
import { klass } from './class.ts';
import { core } from './core.ts';
import { http } from './http.ts';
import type { Measure } from './measure.ts';
import { size } from './size.ts';
import { web } from './web.ts';

const GROUPS: Record<string, () => Promise<Measure[]>> = { core, http, web, class: klass, size };
/** Builds a logbook of millions of trials first: only when it is named. */
const WHEN_NAMED = ['size'];

const words = process.argv.slice(2);
const asJson = words.includes('--json');
const named = words.filter((word) => word !== '--json');
const unknown = named.filter((word) => !(word in GROUPS));
if (unknown.length > 0) {
  process.stderr.write(`No group ${unknown.join(', ')}. There are: ${Object.keys(GROUPS).join(', ')}.\n`);
  process.exit(1);
}

let missed = 0;
for (const [name, measure] of Object.entries(GROUPS)) {
  if (named.length > 0 ? !named.includes(name) : WHEN_NAMED.includes(name)) continue;
  process.stderr.write(`${name}\n`);
  for (const result of await measure()) {
    if (!result.met) missed += 1;
    process.stdout.write(asJson ? `${JSON.stringify(result)}\n` : `${inWords(result)}\n`);
  }
}
process.exitCode = missed > 0 ? 1 : 0;

function inWords({ name, value, unit, target, met }: Measure): string {
  const shown = unit === '1' ? value.toPrecision(3) : `${value.toPrecision(3)} ${unit}`;
  return `${name.padEnd(28)} ${shown.padStart(12)}   target ${target}   ${met ? 'met' : 'MISSED'}`;
}
