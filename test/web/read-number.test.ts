import { describe, expect, it } from 'vitest';
import { text } from '../../web/messages/en.ts';
import { readNumber, shiftMark } from '../../web/parts/read-number.ts';

/** Expected values: the digits as they stand in what was typed; a person can read each off the row. */
const taken: [typed: string, unit: string, value: string][] = [
  ['100.1234', 'g', '100.1234'],
  ['100,1234', 'g', '100.1234'],
  ['100.0000', 'g', '100.0000'],
  ['−0,5', '°C', '-0.5'],
  ['-0.5', '°C', '-0.5'],
  ['+0.5', '', '0.5'],
  ['.5', '', '0.5'],
  ['5.', '', '5'],
  ['0', 'g', '0'],
  ['0.0000', 'g', '0.0000'],
  ['007.50', '', '7.50'],
  ['\u00a099.9\u00a0g', 'g', '99.9'],
  [' 99.9 g', 'g', '99.9'],
  ['99.9g', 'g', '99.9'],
  ['１２．５', '', '12.5'],
  ['１２，５', '', '12.5'],
  ['١٢٫٥', '', '12.5'],
  ['۱۲٫۵', '', '12.5'],
  ['  +49.9876 g', 'g', '49.9876'],
  ['ST,+ 49.9876 g\r\n', 'g', '49.9876'],
  ['ST,GS,+  49.9876  g\r\n', 'g', '49.9876'],
  ['ST,+00049.9876  g\r\n', 'g', '49.9876'],
  ['S S     49.9876 g\r\n', 'g', '49.9876'],
  ['N     -  49.9876 g', 'g', '-49.9876'],
  ['21.3 °C', '°C', '21.3'],
  ['49.9876 G', 'g', '49.9876'],
];

const refused: [typed: string, unit: string, problem: string][] = [
  ['', 'g', text.number.empty],
  ['   ', 'g', text.number.empty],
  ['1,234.5', 'g', text.number.bothMarks('1,234.5')],
  ['1.234,5', 'g', text.number.bothMarks('1.234,5')],
  ['1.2.3', 'g', text.number.twoMarks('1.2.3')],
  ['1,2,3', 'g', text.number.twoMarks('1,2,3')],
  ['1 234.5', 'g', text.number.grouped('1 234.5')],
  ['1\u00a0234', 'g', text.number.grouped('1\u00a0234')],
  ['1’234.5', 'g', text.number.grouped('1’234.5')],
  ['1e3', 'g', text.number.exponent('1e3')],
  ['1.5E-3', 'g', text.number.exponent('1.5E-3')],
  ['abc', 'g', text.number.letters('abc')],
  ['12a', 'g', text.number.letters('12a')],
  ['-', 'g', text.number.letters('-')],
  ['.', 'g', text.number.letters('.')],
  ['--5', 'g', text.number.letters('--5')],
  ['PT 12.5 g', 'g', text.number.letters('PT 12.5 g')],
  ['US,+ 49.9876 g\r\n', 'g', text.number.unstable],
  ['S D     49.9876 g', 'g', text.number.unstable],
  ['49.9876 g ?', 'g', text.number.unstable],
  ['OL', 'g', text.number.overload],
  ['OL,+9999999 g', 'g', text.number.overload],
  ['249.938 ct', 'g', text.number.unitRefused('ct', 'g')],
  ['0.110204 lb', 'g', text.number.unitRefused('lb', 'g')],
  ['1.7633 oz', 'g', text.number.unitRefused('oz', 'g')],
  ['0.05 kg', 'g', text.number.unitRefused('kg', 'g')],
  ['70.3 °F', '°C', text.number.unitWrong('°F', '°C')],
  ['99.25 kPa', 'hPa', text.number.unitWrong('kPa', 'hPa')],
  ['1'.repeat(33), 'g', text.number.tooLong],
];

describe('reading a number somebody typed or a balance sent', () => {
  it.each(taken)('%j in %s is %s', (typed, unit, value) => {
    expect(readNumber(typed, unit)).toEqual({ ok: true, value, converted: null });
  });

  it.each(refused)('%j in %s is asked about', (typed, unit, problem) => {
    expect(readNumber(typed, unit)).toEqual({ ok: false, problem });
  });

  it.each([
    ['49987.6 mg', '49.9876', '49987.6', 'mg'],
    ['ST,+ 49987.6 mg\r\n', '49.9876', '49987.6', 'mg'],
    ['0.5 mg', '0.0005', '0.5', 'mg'],
    ['-0.5 mg', '-0.0005', '-0.5', 'mg'],
    ['0.0499876 kg', '49.9876', '0.0499876', 'kg'],
    ['1.250 kg', '1250', '1.250', 'kg'],
  ])('%j is converted to g in sight, digit for digit', (typed, value, from, unit) => {
    expect(readNumber(typed, 'g')).toEqual({ ok: true, value, converted: text.number.converted(from, unit) });
  });

  it('never invents a digit when the decimal mark moves', () => {
    expect(shiftMark('12', 3)).toBeNull();
    expect(shiftMark('1.20', -3)).toBe('0.00120');
  });
});
