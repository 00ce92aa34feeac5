/** Codes and words by which a class comes in; drawn by the system's secure generator. */
import { randomInt } from 'node:crypto';

/** No sign that is taken for another one when read from a board: no i, l, o, 0, 1. */
const SIGNS = 'abcdefghjkmnpqrstuvwxyz23456789';
const LETTERS = 'abcdefghjkmnpqrstuvwxyz';

const drawn = (alphabet: string, length: number): string =>
  Array.from({ length }, () => alphabet[randomInt(alphabet.length)]).join('');

/** 29.7 bits: six of 31 signs. */
export const newJoinCode = (): string => drawn(SIGNS, 6);
/** 49.5 bits: for a projector or an assistant, who see more than a group. */
export const newHelperCode = (): string => drawn(SIGNS, 10);

/** 22.6 bits: five of 23 letters; asked for together with the code. @param taken words of the other groups */
export const newWordBeside = (taken: ReadonlySet<string>): string => {
  for (;;) {
    const word = drawn(LETTERS, 5);
    if (!taken.has(word)) return word;
  }
};

/** As somebody types it: capitals, spaces and dashes do not count. */
export const asTyped = (text: string): string => text.toLowerCase().replaceAll(/[\s-]/gu, '');
