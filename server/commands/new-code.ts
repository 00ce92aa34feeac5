import type { Config } from '../config.ts';
import { openLogbook } from '../db/logbook.ts';
import { CONSOLE_ACTOR } from '../people/access.ts';
import { hashOfCode, newCode } from '../people/codes.ts';
import type { PersonOnWire } from '../people/contract.ts';
import { fold } from '../people/fold.ts';
import { keepCode, listPeople } from '../people/store.ts';
import { newRequestId } from '../requests.ts';

export const help = 'new-code [NAME] — prints a one-time code for a keeper who cannot sign in; stop the server first';

const CODE_LASTS_MS = 72 * 3_600_000;

/** @returns whose code it will be, or a sentence that says why it cannot be told */
const chosen = (people: readonly PersonOnWire[], name: string | undefined): PersonOnWire | string => {
  const keepers = people.filter((one) => one.role === 'keeper' && one.active);
  if (keepers.length === 0) return 'There is no keeper yet. Start the server: it prints the code of the set-up.';
  const names = keepers.map((one) => one.name).join(', ');
  if (name === undefined) {
    const [only] = keepers;
    return keepers.length === 1 && only ? only : `Say for whom: new-code NAME. Keepers are: ${names}.`;
  }
  return (
    keepers.find((one) => fold(one.name) === fold(name)) ??
    `No active keeper is called "${name}". Keepers are: ${names}.`
  );
};

/** @returns the exit code of the command */
export const run = async (args: readonly string[], config: Config): Promise<number> => {
  const name = args.length === 0 ? undefined : args.join(' ');
  const logbook = await openLogbook(config.dataFolder);
  try {
    const keeper = chosen(await logbook.read(listPeople), name);
    if (typeof keeper === 'string') {
      console.error(keeper);
      return 1;
    }
    const code = newCode();
    const asker = { actor: CONSOLE_ACTOR, requestId: newRequestId() };
    const { body: expiresAt } = await logbook.write(asker, async ({ trx, at, journal }) => {
      const until = new Date(Date.parse(at) + CODE_LASTS_MS).toISOString();
      await keepCode(trx, keeper.id, hashOfCode(code), until);
      journal({ act: 'code-made', object: `person/${keeper.id}`, before: null, after: { expiresAt: until } });
      return { status: 200, body: until };
    });
    console.log(`One-time code for ${keeper.name}: ${code}`);
    console.log(
      `Good until ${expiresAt}. At sign-in choose "I have a one-time code". It replaces the passphrase and ends the second factor.`,
    );
    return 0;
  } finally {
    await logbook.close();
  }
};
