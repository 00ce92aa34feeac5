/** How passphrases are kept and compared: argon2id, 19 MiB, two passes, one lane; at most two at once. */
import { LONGEST_PASSPHRASE, SHORTEST_PASSPHRASE } from './contract.ts';
import { fold } from './fold.ts';
import { invalid, Problem } from '../problem.ts';

const PARAMETERS = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };
const PRESENT = `$argon2id$v=19$m=${PARAMETERS.memoryCost},t=${PARAMETERS.timeCost},p=${PARAMETERS.parallelism}$`;
/** No passphrase has this hash; comparing with it takes as long as comparing with a real one. */
const NOBODYS = `${PRESENT}${'A'.repeat(22)}$${'A'.repeat(43)}`;

const MOST_AT_ONCE = 2;
const MOST_WAITING = 200;
let running = 0;
const waiting: (() => void)[] = [];

/** 19 MiB each: many at once would take the memory that weighing needs. */
const inTurn = async <T>(work: () => Promise<T>): Promise<T> => {
  if (running >= MOST_AT_ONCE) {
    if (waiting.length >= MOST_WAITING) throw new Problem('too-many-requests', { headers: { 'retry-after': '10' } });
    await new Promise<void>((resolve) => waiting.push(resolve));
  } else running += 1;
  try {
    return await work();
  } finally {
    const next = waiting.shift();
    if (next) next();
    else running -= 1;
  }
};

/** The same letters typed on another keyboard can be other code points. */
const bytes = (passphrase: string): Buffer => Buffer.from(passphrase.normalize('NFC'), 'utf8');

export const hashPassphrase = async (passphrase: string): Promise<string> => {
  const { hash } = await import('@node-rs/argon2');
  return inTurn(() => hash(bytes(passphrase), PARAMETERS));
};

/** With no hash to compare with it takes as long and is false. */
export const isPassphrase = async (passphrase: string, hash: string | null): Promise<boolean> => {
  const { verify } = await import('@node-rs/argon2');
  const fits = await inTurn(() => verify(hash ?? NOBODYS, bytes(passphrase)));
  return fits && hash !== null;
};

/** Kept with other parameters than those in use now. */
export const isOutdated = (hash: string): boolean => !hash.startsWith(PRESENT);

let common: Promise<ReadonlySet<string>> | null = null;
const commonPassphrases = (): Promise<ReadonlySet<string>> =>
  (common ??= import('@zxcvbn-ts/language-common').then((list) => new Set(list.dictionary['passwords-common'])));

/** @throws Problem `validation-failed` at the field, when the passphrase is too short, common, or the name itself */
export const requireGoodPassphrase = async (passphrase: string, name: string, pointer: string): Promise<void> => {
  const length = [...passphrase.normalize('NFC')].length;
  const refuse = (detail: string) => invalid([{ pointer, detail }]);
  if (length < SHORTEST_PASSPHRASE)
    throw refuse(
      `The passphrase needs at least ${SHORTEST_PASSPHRASE} characters. Several words are easy to keep in mind.`,
    );
  if (length > LONGEST_PASSPHRASE) throw refuse(`The passphrase is longer than ${LONGEST_PASSPHRASE} characters.`);
  if (fold(passphrase) === fold(name))
    throw refuse('The passphrase is the name itself. Choose something only you know.');
  if ((await commonPassphrases()).has(passphrase.toLowerCase()))
    throw refuse('This passphrase is on the list of common ones that are tried first. Choose another.');
};
