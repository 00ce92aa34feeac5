/** The canonical text against the published examples of RFC 8785, as far as a journal may hold them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonical, NotCanonical, type JournalValue } from '../../server/journal/canonical.ts';

const parsed = (text: string) => JSON.parse(text) as JournalValue;
const hex = (text: string): string => Buffer.from(text, 'utf8').toString('hex');

describe('RFC 8785', () => {
  it('§3.2.2: escapes of the sample string, literals', () => {
    const input = String.raw`{"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`;
    expect(canonical(parsed(input))).toBe(String.raw`{"literals":[null,true,false],"string":"€$\u000f\nA'B\"\\\\\"/"}`);
  });

  it('§3.2.4: the same as bytes, without the numbers', () => {
    const input = String.raw`{"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`;
    const literals = '7b226c69746572616c73223a5b6e756c6c2c747275652c66616c73655d2c';
    const string = '22737472696e67223a22e282ac245c75303030665c6e4127425c225c5c5c5c5c222f227d';
    expect(hex(canonical(parsed(input)))).toBe(literals + string);
  });

  it('§3.2.3: keys by UTF-16 code units, not by code points or language', () => {
    const input = String.raw`{
      "\u20ac": "Euro Sign",
      "\r": "Carriage Return",
      "\ufb33": "Hebrew Letter Dalet With Dagesh",
      "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face",
      "\u0080": "Control",
      "\u00f6": "Latin Small Letter O With Diaeresis"
    }`;
    const text = canonical(parsed(input));
    expect([...text.matchAll(/:"([^"]+)"/g)].map((match) => match[1])).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
    expect(hex(text)).toContain(hex('"\u{1f600}":"Emoji'));
  });

  it('appendix B: zero and minus zero', () => {
    expect(canonical(0)).toBe('0');
    expect(canonical(-0)).toBe('0');
  });
});

describe('of what a journal holds', () => {
  it('keeps every digit and sign of a reading, since it is text', () => {
    expect(canonical({ filledG: '100.0000', emptyG: '-0.0', at: '+5.' })).toBe(
      '{"at":"+5.","emptyG":"-0.0","filledG":"100.0000"}',
    );
  });

  it('neither composes nor decomposes letters', () => {
    expect(canonical('A\u030a')).toBe('"A\u030a"');
    expect(canonical('\u00c5')).toBe('"\u00c5"');
  });

  it('leaves line and paragraph separators as they are', () => {
    expect(canonical('\u2028\u2029\u007f')).toBe('"\u2028\u2029\u007f"');
  });

  it.each([
    ['a fraction', 0.5],
    ['more than a safe integer', 2 ** 53],
    ['infinity', Number.POSITIVE_INFINITY],
    ['no number', Number.NaN],
    ['half a surrogate pair', 'F-1\ud83d'],
    ['half a surrogate pair in a key', { '\ude00': '1' }],
    ['one deep inside', { list: [{ reading: 1.5 }] }],
  ])('refuses %s', (_name, value) => {
    expect(() => canonical(value)).toThrow(NotCanonical);
  });

  const leaf = fc.oneof(fc.string({ unit: 'grapheme' }), fc.maxSafeInteger(), fc.boolean(), fc.constant(null));
  const { value: anyValue } = fc.letrec<{ value: JournalValue }>((tie) => ({
    value: fc.oneof(
      { maxDepth: 4 },
      leaf,
      fc.array(tie('value'), { maxLength: 4 }),
      fc.dictionary(fc.string({ unit: 'grapheme', maxLength: 5 }), tie('value'), { maxKeys: 4 }),
    ),
  }));

  it('reads back as the same value, and is its own canonical text', () => {
    fc.assert(
      fc.property(anyValue, (value) => {
        const text = canonical(value);
        expect(canonical(parsed(text))).toBe(text);
        expect(parsed(text)).toEqual(parsed(JSON.stringify(value)));
      }),
      { seed: 8785, numRuns: 300 },
    );
  });

  it('does not depend on the order in which fields were written', () => {
    const fields = fc.uniqueArray(fc.tuple(fc.string(), leaf), { selector: ([key]) => key, maxLength: 8 });
    fc.assert(
      fc.property(fields, (entries) => {
        const reversed = Object.fromEntries([...entries].reverse());
        expect(canonical(Object.fromEntries(entries))).toBe(canonical(reversed));
      }),
      { seed: 8785, numRuns: 300 },
    );
  });
});
