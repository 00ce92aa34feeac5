import { describe, expect, it } from 'vitest';
import { text } from '../../web/messages/en.ts';
import {
  nextEntry,
  readEntry,
  takenOverFrom,
  withEmptySource,
  type EarlierTrial,
} from '../../web/pages/bench/entry.ts';

const of = { calibrationId: 'c1', tag: 'F-0317', pointMl: '100' };
const first: EarlierTrial = {
  number: 1,
  pointMl: '100',
  emptyG: '61.2034',
  filledG: '160.8371',
  waterTemperatureC: '21.3',
};

describe('a trial while it is typed', () => {
  it('asks for two values from the second trial on: the temperature is carried over', () => {
    const { typed } = nextEntry(of, [first]);
    expect(typed).toMatchObject({ emptyG: '', filledG: '', waterTemperatureC: '21.3', emptySource: 'own' });
    const read = readEntry({ pointMl: '100', typed: { ...typed, emptyG: '61,2031', filledG: '160.8401 g' } });
    expect(read.body).toEqual({ pointMl: '100', emptyG: '61.2031', filledG: '160.8401', waterTemperatureC: '21.3' });
  });

  it('fills no water temperature in from the row before on a sheet', () => {
    expect(nextEntry(of, [first], null, true).typed).toMatchObject({ waterTemperatureC: '', isAssumed: false });
  });

  it('asks for three at the first', () => {
    const { typed } = nextEntry(of, []);
    expect(Object.keys(readEntry({ pointMl: '100', typed }).problems)).toEqual([
      'filledG',
      'emptyG',
      'waterTemperatureC',
    ]);
  });

  it('takes a filled reading over as the next empty one where the receiver is not emptied', () => {
    const carried = nextEntry(of, [{ ...first, emptySource: 'carried' }]).typed;
    expect(carried).toMatchObject({ emptySource: 'carried', emptyG: '160.8371', emptyOf: 1 });
    const read = readEntry({ pointMl: '100', typed: { ...carried, filledG: '260.4710' } });
    expect(read.body).toMatchObject({ emptyG: '160.8371', emptySource: 'carried', emptyOf: 1 });
  });

  it('reuses the last dry reading that was really weighed', () => {
    const second: EarlierTrial = { ...first, number: 2, emptySource: 'reused', filledG: '160.8400' };
    const from = takenOverFrom([first, second]);
    const typed = withEmptySource(nextEntry(of, []).typed, 'reused', from);
    expect(typed).toMatchObject({ emptyG: '61.2034', emptyOf: 1 });
  });

  it('writes the zero of a tared balance with the digits of the filled reading', () => {
    const typed = withEmptySource(nextEntry(of, [first]).typed, 'tared', takenOverFrom([first]));
    expect(readEntry({ pointMl: '100', typed: { ...typed, filledG: '99.6337' } }).body).toMatchObject({
      emptyG: '0.0000',
      emptySource: 'tared',
    });
  });

  it('forgets a reading taken over when the vessel is weighed again', () => {
    const from = takenOverFrom([first]);
    const reused = withEmptySource(nextEntry(of, [first]).typed, 'reused', from);
    expect(withEmptySource(reused, 'own', from)).toMatchObject({ emptySource: 'own', emptyG: '', emptyOf: null });
  });

  it('sends an assumed temperature with its half-width, and refuses one without', () => {
    const typed = { ...nextEntry(of, [first]).typed, emptyG: '61.2', filledG: '160.8', isAssumed: true };
    expect(readEntry({ pointMl: '100', typed }).problems).toEqual({ waterTemperatureHalfWidthC: text.number.empty });
    const read = readEntry({ pointMl: '100', typed: { ...typed, waterTemperatureHalfWidthC: '0,5' } });
    expect(read.body).toMatchObject({ waterTemperatureHalfWidthC: '0.5' });
  });
});
