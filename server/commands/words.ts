/** Words after a command: options with and without a value, and what is left. */
export class BadWords extends Error {}

export interface Words {
  plain: string[];
  values: Record<string, string>;
  flags: Set<string>;
}

/** @throws BadWords for an option the command does not know, or one whose value is missing */
export const readWords = (
  args: readonly string[],
  known: { values?: readonly string[]; flags?: readonly string[]; plain: number; use: string },
): Words => {
  const words: Words = { plain: [], values: {}, flags: new Set() };
  const refuse = (): never => {
    throw new BadWords(`Use: npm run tarebook -- ${known.use}`);
  };
  for (let index = 0; index < args.length; index += 1) {
    const word = args[index] ?? '';
    if (!word.startsWith('--')) words.plain.push(word);
    else if (known.flags?.includes(word)) words.flags.add(word);
    else if (known.values?.includes(word)) words.values[word] = args[(index += 1)] ?? refuse();
    else refuse();
  }
  return words.plain.length > known.plain ? refuse() : words;
};
