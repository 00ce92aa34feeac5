import { describe, expect, it } from 'vitest';
import { numberedTags } from '../../server/lots/numbering.ts';
import { readPasted } from '../../server/lots/pasted.ts';

describe('tags from a pattern', () => {
  it('are numbered where the signs stand, with as many digits as signs', () => {
    expect(numberedTags('F100-###', 9, 3)).toEqual({ ok: true, tags: ['F100-009', 'F100-010', 'F100-011'] });
    expect(numberedTags('#/26', 0, 2)).toEqual({ ok: true, tags: ['0/26', '1/26'] });
  });

  it.each([
    ['no place for the number', 'F100', 1, 2, 'pattern'],
    ['two places', '##-F-#', 1, 2, 'pattern'],
    ['more vessels than the digits hold', 'F-##', 98, 3, 'first'],
  ] as const)('are refused with %s', (_name, pattern, first, count, field) => {
    expect(numberedTags(pattern, first, count)).toMatchObject({ ok: false, field });
  });
});

describe('a pasted list', () => {
  const rows = (text: string, numbered = false) => {
    const read = readPasted(text, numbered);
    return read.ok ? read.rows.map(({ line, tag, serial }) => [line, tag, serial]) : read.detail;
  };

  it('is read from a spreadsheet, with or without a header, and from CSV of either kind', () => {
    const expected = [
      [1, 'F-1', '0007'],
      [2, 'F-2', ''],
    ];
    expect(rows('F-1\t0007\nF-2\t')).toEqual(expected);
    expect(rows('F-1;0007\r\nF-2;\r\n')).toEqual(expected);
    expect(rows('F-1,0007\nF-2')).toEqual(expected);
    expect(rows('\uFEFFSerial,Tag\n0007,F-1\n"a ""b"", c",F-2')).toEqual([
      [2, 'F-1', '0007'],
      [3, 'F-2', 'a "b", c'],
    ]);
  });

  it('holds serial numbers alone where the tags are numbered', () => {
    expect(rows('0007\n\n0008', true)).toEqual([
      [1, '', '0007'],
      [3, '', '0008'],
    ]);
  });

  it.each([
    ['nothing', ' \n', /empty/],
    ['a header alone', 'tag,serial\n', /header/],
    ['a quote without an end', '"F-1\nF-2', /no end/],
  ])('with %s is refused', (_name, text, detail) => {
    expect(rows(text)).toMatch(detail);
  });
});
