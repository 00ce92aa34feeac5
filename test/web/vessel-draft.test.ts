import { describe, expect, it } from 'vitest';
import { text } from '../../web/messages/en.ts';
import { newLotText } from '../../web/messages/en-lots.ts';
import { emptyLot, readLot } from '../../web/pages/lots/lot-draft.ts';
import { vesselFormText, vesselText } from '../../web/messages/en-glassware.ts';
import {
  changesBetween,
  EMPTY_DRAFT,
  intervalProblems,
  missingIn,
  mergeDrafts,
  readDraft,
  versionsOf,
  type VesselDraft,
} from '../../web/pages/vessel/draft.ts';

const flask: VesselDraft = {
  ...EMPTY_DRAFT,
  tag: ' F-0317 ',
  kind: 'volumetric-flask',
  nominalVolumeMl: '100',
  basis: 'contain',
  standard: 'ISO 1042|1998',
  class: 'A',
};

describe('the vessel form', () => {
  it('sends what is typed and nothing the kind does not have', () => {
    const { body, problems } = readDraft({ ...flask, divisionMl: '1', neckDiameterMm: '11,5' });
    expect(problems).toEqual({});
    expect(body).toEqual({
      tag: 'F-0317',
      kind: 'volumetric-flask',
      nominalVolumeMl: '100',
      basis: 'contain',
      material: 'borosilicate-3.3',
      referenceTemperatureC: '20',
      neckDiameterMm: '11.5',
      tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
    });
  });

  it('sends a marked tolerance beside the class, in mL or per cent', () => {
    expect(readDraft({ ...flask, marked: '±0,15' }).body.tolerance).toMatchObject({ class: 'A', markedMl: '0.15' });
    expect(readDraft({ ...flask, standard: '', class: '', marked: '5', markedUnit: '%' }).body.tolerance).toEqual({
      markedPercent: '5',
    });
  });

  it('names the field that cannot be read', () => {
    expect(readDraft({ ...flask, nominalVolumeMl: '1.000,0' }).problems).toEqual({
      nominalVolumeMl: text.number.bothMarks('1.000,0'),
    });
  });

  it('names all that is missing at once, of a vessel as of a delivery', () => {
    const { missing, foundNone } = vesselFormText;
    expect(missingIn(flask)).toEqual({});
    expect(missingIn(EMPTY_DRAFT)).toEqual({ kind: missing.kind });
    expect(missingIn({ ...EMPTY_DRAFT, kind: 'volumetric-flask' })).toEqual({
      ...{ tag: missing.tag, nominalVolumeMl: missing.nominal, tolerance: foundNone },
    });
    expect(missingIn({ ...flask, class: '' })).toEqual({ 'tolerance/class': missing.class });
    expect(missingIn({ ...EMPTY_DRAFT, tag: 'P', kind: 'pycnometer', nominalVolumeMl: '25' })).toEqual({});
    const lot = emptyLot('2026-03-02');
    const { name, pattern, count, list } = newLotText.missing;
    expect(readLot(lot).problems).toEqual({
      ...{ kind: missing.kind, name, 'numbering/pattern': pattern, 'numbering/count': count },
    });
    expect(readLot({ ...lot, name: 'Flasks', ware: flask, tagging: 'listed' }).problems).toEqual({ list });
    const whole = { ...lot, name: 'Flasks', ware: { ...flask, tag: '' }, pattern: 'F-##', count: '3' };
    expect(readLot(whole).problems).toEqual({});
  });

  it('writes an expansion coefficient out in digits', () => {
    expect(readDraft({ ...flask, expansionPerK: '9.9e-6' }).body.expansionPerK).toBe('0.0000099');
    expect(readDraft({ ...flask, expansionPerK: '27e-6' }).body.expansionPerK).toBe('0.000027');
  });

  it('asks why a vessel has an interval of its own, once, and empties both', () => {
    const own = { ...flask, intervalMonths: ' 6 ', intervalReason: 'in hot alkali every week' };
    expect(readDraft(own).body).toMatchObject({ intervalMonths: 6, intervalReason: 'in hot alkali every week' });
    expect(readDraft({ ...flask, intervalMonths: 'half a year' }).problems).toHaveProperty('intervalMonths');
    expect(intervalProblems(flask, own)).toEqual({});
    expect(intervalProblems(flask, { ...own, intervalReason: ' ' })).toHaveProperty('intervalReason');
    // Taken over with a delivery, which asks for no reason: another correction is not held up by it.
    const kept = { ...flask, intervalMonths: '12' };
    expect(intervalProblems(kept, { ...kept, location: 'shelf 2' })).toEqual({});
    expect(changesBetween(own, flask)).toEqual({ intervalMonths: null, intervalReason: null });
  });

  it('reads the marks of a beaker one by one', () => {
    const beaker: VesselDraft = { ...flask, kind: 'beaker', marks: '50 100; 150,5' };
    expect(readDraft(beaker).body.marks).toEqual(['50', '100', '150.5']);
  });

  it('sends only what a correction changes, and null for what it empties', () => {
    const before: VesselDraft = { ...flask, location: 'shelf 2', serial: '4711' };
    expect(changesBetween(before, { ...before, nominalVolumeMl: '250', location: '', inUse: false })).toEqual({
      nominalVolumeMl: '250',
      location: null,
      inUse: false,
    });
    expect(changesBetween(before, before)).toEqual({});
  });

  it('keeps both people’s changes where they touch different fields, and names what differs', () => {
    const mine: VesselDraft = { ...flask, nominalVolumeMl: '250' };
    const present: VesselDraft = { ...flask, location: 'shelf 3' };
    expect(mergeDrafts(flask, mine, present)).toMatchObject({ nominalVolumeMl: '250', location: 'shelf 3' });
    expect(versionsOf(flask, mine, present)).toEqual([
      { name: vesselText.facts.nominalVolumeMl, before: '100', mine: '250', present: '100' },
      { name: vesselText.facts.location, before: '', mine: '', present: 'shelf 3' },
    ]);
  });
});
