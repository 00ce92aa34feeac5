// Checks an export of a Tarebook logbook. Needs nothing but Node.js 20 or newer:
//
//   node verify.mjs [--expect-head HASH]
//
// It recomputes the hash of every entry of journal.jsonl, compares certificate files, what certificates froze and the
// results of solutions with the hashes the journal tells of, holds the readings, corrections and exclusions in the tables
// of a whole export against the journal, and counts the rows of each table. The other tables are for reading on; the
// journal is the record. With --expect-head some entry must have that hash: the only way to see that a journal was
// written anew. Ends with 0 when all is well, with 1 otherwise.
import { createHash } from 'node:crypto';
import { createReadStream, existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const folder = dirname(fileURLToPath(import.meta.url));
const words = process.argv.slice(2);
const expected = words[0] === '--expect-head' ? (words[1] ?? '') : null;
if (words.length > 0 && (words.length !== 2 || expected === null || !/^[0-9a-f]{64}$/.test(expected)))
  stop('Use: node verify.mjs [--expect-head HASH], the hash being 64 characters 0-9 a-f.');

function stop(sentence) {
  process.stderr.write(`${sentence}\n`);
  process.exit(1);
}

const say = (sentence) => process.stdout.write(`${sentence}\n`);
const sha256 = (...parts) => parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest('hex');

// RFC 8785 for the values a journal holds: text, whole numbers, true, false, null, lists and objects of them.
function canonical(value) {
  if (value === null || typeof value !== 'object') {
    if (typeof value === 'number' && !Number.isSafeInteger(value)) throw new Error('a number that is no whole one');
    return JSON.stringify(value);
  }
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  const names = Object.keys(value).sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
  return `{${names.map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`).join(',')}}`;
}

// The line must be exactly the text that was hashed: another spelling of the same values is refused too.
function readLine(line, number) {
  try {
    const entry = JSON.parse(line);
    if (canonical(entry) === line) return entry;
  } catch {
    // said below
  }
  return stop(`Entry ${number}: the line is not the RFC 8785 text of an entry.`);
}

// Hashes of what a certificate consists of, wherever an entry names them.
function hashesIn(value, name, found) {
  if (typeof value === 'string') {
    if (/^(frozenHash|pdf|xml|\w*[sS]ha256)$/.test(name) && /^[0-9a-f]{64}$/.test(value)) found.add(value);
  } else if (value !== null && typeof value === 'object') {
    for (const [key, one] of Object.entries(value)) hashesIn(one, Array.isArray(value) ? name : key, found);
  }
  return found;
}

// Tables whose rows are held against the journal, with what their entries tell: [column, member of the entry's after].
// Rows are told apart by calibration, so that not every reading has to be kept in memory.
const COMPARED = {
  trial: {
    acts: ['trial-recorded'],
    fields: [
      ['number', 'number'],
      ['point_ml', 'pointMl'],
      ['empty_g', 'emptyG'],
      ['filled_g', 'filledG'],
      ['water_temperature_c', 'waterTemperatureC'],
      ['water_temperature_half_width_c', 'waterTemperatureHalfWidthC'],
      ['empty_of', 'emptyOf'],
      ['empty_state', 'emptyState'],
      ['air_temperature_c', 'airTemperatureC'],
      ['air_pressure_hpa', 'airPressureHpa'],
      ['relative_humidity_percent', 'relativeHumidityPercent'],
      ['delivery_time_s', 'deliveryTimeS'],
      ['waiting_time_s', 'waitingTimeS'],
      ['open_time_s', 'openTimeS'],
      ['channel', 'channel'],
      ['note', 'note'],
    ],
  },
  trial_correction: {
    acts: ['trial-corrected'],
    fields: [
      ['trial_number', 'number'],
      ['field', 'field'],
      ['value', 'value'],
      ['reason', 'reason'],
      ['note', 'note'],
    ],
  },
  trial_exclusion: {
    acts: ['trial-excluded', 'trial-included-again'],
    fields: [
      ['trial_number', 'number'],
      ['excluded', 'excluded'],
      ['cause', 'cause'],
      ['reason', 'reason'],
    ],
  },
};
const MODULUS = 1n << 256n;

// Adds a row to the sum of its calibration: equal sums of hashes mean equal rows, in whatever order.
function addTo(sums, table, calibration, cells) {
  const key = `${table} ${calibration}`;
  const hash = BigInt(`0x${sha256(JSON.stringify(cells))}`);
  sums.set(key, ((sums.get(key) ?? 0n) + hash) % MODULUS);
}

const asCell = (value) => (value === undefined || value === null ? '' : String(value));

function takeTold(sums, entry) {
  for (const [table, { acts, fields }] of Object.entries(COMPARED)) {
    if (!acts.includes(entry.act)) continue;
    const cells = fields.map(([, member]) => asCell(entry.after[member]));
    addTo(sums, table, entry.object.replace('calibration/', ''), [...cells, entry.at, entry.actor]);
  }
}

// An apostrophe in front of a text keeps a spreadsheet from taking it for a formula; where nothing follows it stands for
// an empty text.
const bare = (cell) => (cell.startsWith("'") ? cell.slice(1) : cell);

async function compareTables(told) {
  const found = new Map();
  for (const [table, { fields }] of Object.entries(COMPARED)) {
    let columns = null;
    for await (const cells of rowsOf(`tables/${table}.csv`)) {
      if (columns === null) {
        columns = [...fields.map(([column]) => column), 'recorded_at', 'recorded_by'].map((name) =>
          cells.indexOf(name),
        );
        columns.calibration = cells.indexOf('calibration_id');
        continue;
      }
      addTo(
        found,
        table,
        cells[columns.calibration],
        columns.map((column) => bare(cells[column])),
      );
    }
  }
  for (const key of new Set([...told.keys(), ...found.keys()]))
    if (told.get(key) !== found.get(key)) {
      const [table, calibration] = key.split(' ');
      stop(`tables/${table}.csv does not hold what the journal tells of calibration ${calibration}.`);
    }
  return found.size;
}

const WHOLE = 'act,actor,after,at,before,hash,number,object,previousHash,requestId';
const STUB = 'hash,number,previousHash';

async function checkJournal() {
  let previous = '0'.repeat(64);
  let number = 0;
  let whole = 0;
  let seen = false;
  const told = new Set();
  const results = new Map();
  const typed = new Map();
  for await (const line of createInterface({ input: createReadStream(join(folder, 'journal.jsonl')), crlfDelay: 0 })) {
    number += 1;
    const entry = readLine(line, number);
    const members = Object.keys(entry).sort().join(',');
    if (entry.number !== number) stop(`Entry ${number} is missing or out of place: here stands ${entry.number}.`);
    if (entry.previousHash !== previous) stop(`Entry ${number} does not follow from the one before it.`);
    if (members === WHOLE) {
      whole += 1;
      const { previousHash, hash, ...body } = entry;
      if (sha256(Buffer.from([1]), Buffer.from(previousHash, 'hex'), canonical(body)) !== hash)
        stop(`Entry ${number} was changed: its hash does not fit what it says.`);
      if (entry.act.startsWith('certificate-')) hashesIn(entry.after, '', told);
      takeTold(typed, entry);
      if (entry.act === 'preparation-recorded')
        results.set(entry.object.replace('preparation/', ''), {
          number: entry.after.number,
          hash: entry.after.resultHash,
        });
    } else if (members !== STUB || !/^[0-9a-f]{64}$/.test(entry.hash)) {
      stop(`Entry ${number} is neither a whole entry nor its hashes alone.`);
    }
    previous = entry.hash;
    if (previous === expected) seen = true;
  }
  if (expected !== null && !seen)
    stop(`No entry has the hash ${expected}: the journal was written anew, or cut off before that entry.`);
  return { number, hash: previous, whole, told, results, typed };
}

function checkCertificates(told, rows) {
  const present = existsSync(join(folder, 'certificates')) ? readdirSync(join(folder, 'certificates')).sort() : [];
  for (const name of present)
    if (!told.has(sha256(readFileSync(join(folder, 'certificates', name)))))
      stop(`certificates/${name} is not what the journal tells of.`);
  if (present.length !== rows)
    stop(`The folder certificates holds ${present.length} files, but there should be ${rows}.`);
  return present.length;
}

// Cells of a CSV file row by row, as lists of bytes. Quotes frame a cell; inside, each is doubled.
async function* rowsOf(path) {
  let row = [];
  let cell = [];
  let inQuotes = false;
  let before = 0;
  for await (const chunk of createReadStream(join(folder, path)))
    for (const byte of chunk) {
      if (byte === 0x22) {
        // The second of two quotes belongs to the cell; the first one of a cell opens it.
        if (!inQuotes && before === 0x22) cell.push(byte);
        inQuotes = !inQuotes;
      } else if (inQuotes || (byte !== 0x2c && byte !== 0x0d && byte !== 0x0a)) {
        cell.push(byte);
      } else if (byte !== 0x0d) {
        row.push(Buffer.from(cell).toString('utf8'));
        cell = [];
        if (byte === 0x0a) {
          yield row;
          row = [];
        }
      }
      before = byte;
    }
}

// A text of a table must have the hash beside it, and the journal must tell of that hash.
async function checkTexts(path, names, isTold, what) {
  let columns = null;
  const checked = new Set();
  for await (const cells of rowsOf(path)) {
    if (columns === null) {
      columns = names.map((name) => cells.indexOf(name));
      continue;
    }
    const [id, number, content, hash] = columns.map((column) => cells[column]);
    if (sha256(content) !== hash) stop(`${what(number)} was changed: its hash does not fit it.`);
    if (!isTold(id, hash)) stop(`${what(number)} is not what the journal tells of.`);
    checked.add(id);
  }
  return checked;
}

// Rows of a CSV file: line ends outside quotes. A quote inside a cell is doubled, so counting quotes is enough.
async function countRows(path) {
  let lines = 0;
  let inQuotes = false;
  for await (const chunk of createReadStream(join(folder, path)))
    for (const byte of chunk) {
      if (byte === 0x22) inQuotes = !inQuotes;
      else if (byte === 0x0a && !inQuotes) lines += 1;
    }
  return lines - 1;
}

async function main() {
  for (const name of ['datapackage.json', 'journal.jsonl'])
    if (!existsSync(join(folder, name))) stop(`${name} is missing.`);
  const about = JSON.parse(readFileSync(join(folder, 'datapackage.json'), 'utf8'));
  const journal = await checkJournal();
  const head = about.journal.head;
  if ((head?.number ?? 0) !== journal.number || (head !== null && head.hash !== journal.hash))
    stop(`datapackage.json names another head than entry ${journal.number}, ${journal.hash}.`);
  if (about.journal.entriesWhole !== journal.whole)
    stop(`${journal.whole} entries are whole, but datapackage.json names ${about.journal.entriesWhole}.`);
  for (const { path, rowCount } of about.resources) {
    if (!existsSync(join(folder, path))) stop(`${path} is missing.`);
    const rows = await countRows(path);
    if (rows !== rowCount) stop(`${path} holds ${rows} rows, but datapackage.json names ${rowCount}.`);
  }
  const frozen = await checkTexts(
    'tables/certificate.csv',
    ['number', 'number', 'frozen', 'frozen_hash'],
    (_id, hash) => journal.told.has(hash),
    (number) => `What certificate ${number} froze`,
  );
  const solutions = await checkTexts(
    'tables/preparation.csv',
    ['id', 'number', 'result', 'result_hash'],
    (id, hash) => journal.results.get(id)?.hash === hash,
    (number) => `The result of preparation ${number}`,
  );
  for (const [id, { number }] of journal.results)
    if (!solutions.has(id)) stop(`Preparation ${number} is missing: the journal tells of it.`);
  const isWhole = journal.whole === journal.number;
  if (isWhole) await compareTables(journal.typed);
  const files = about.resources.find((resource) => resource.name === 'certificate_file').rowCount;
  const checked = about.certificates ? checkCertificates(journal.told, files) : 0;
  const certificates = about.certificates ? `${checked} certificate files checked` : 'certificate files were left out';
  say(`${journal.number} entries, ${journal.whole} whole, ${journal.number - journal.whole} by hash only.`);
  say(`${about.resources.length} tables counted, ${certificates}.`);
  say(
    isWhole
      ? 'Readings, corrections and exclusions are what the journal tells of.'
      : 'Readings were not compared with the journal: this export holds a part of it.',
  );
  say(`${frozen.size} frozen certificates and ${solutions.size} results of solutions fit their hashes.`);
  say(`Head of the journal: entry ${journal.number}, ${journal.hash}`);
  say(expected === null ? 'All is well. Compare the head with one kept elsewhere.' : 'All is well.');
}

await main();
