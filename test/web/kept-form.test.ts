/** What is typed into a form stays in its tab; what was ticked for a day does not outlive the day. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Calibration } from '../../server/calibrations/contract.ts';
import { startText } from '../../web/messages/en-start.ts';
import { emptyLot, keptLot } from '../../web/pages/lots/lot-draft.ts';
import { airHelp } from '../../web/pages/start/air-help.ts';
import { startDraft, USUAL_DEFAULTS } from '../../web/pages/start/draft.ts';
import { keptStart } from '../../web/pages/start/kept-start.ts';
import { EMPTY_DRAFT } from '../../web/pages/vessel/draft.ts';
import { forgetDraft, keepDraft, recallDraft } from '../../web/parts/tab-draft.ts';

afterEach(() => vi.unstubAllGlobals());

describe('a draft of a tab', () => {
  it('is recalled as it was kept, until it is forgotten', () => {
    const shelf = new Map<string, string>();
    vi.stubGlobal('sessionStorage', {
      getItem: (key: string) => shelf.get(key) ?? null,
      setItem: (key: string, value: string) => shelf.set(key, value),
      removeItem: (key: string) => shelf.delete(key),
    });
    expect(recallDraft('vessel')).toBeNull();
    keepDraft('vessel', { tag: 'F-1' });
    expect([...shelf.keys()]).toEqual(['tarebook.draft.vessel']);
    expect(recallDraft('vessel')).toEqual({ tag: 'F-1' });
    forgetDraft('vessel');
    expect(shelf.size).toBe(0);
  });

  it('stops nobody where the browser keeps nothing', () => {
    const refuse = () => {
      throw new Error('denied');
    };
    vi.stubGlobal('sessionStorage', { getItem: refuse, setItem: refuse, removeItem: refuse });
    expect(recallDraft('vessel')).toBeNull();
    keepDraft('vessel', {});
    forgetDraft('vessel');
  });
});

const FLASK = { kind: 'volumetric-flask', nominalVolumeMl: '100', basis: 'contain', marks: null } as const;
const NINE = Date.parse('2026-03-02T09:00:00');
const MINUTE = 60_000;
const earlier = {
  performedOn: '2026-03-01',
  recordedAt: new Date(NINE - 10 * MINUTE).toISOString(),
  conditions: { airTemperatureC: '21.3', adjustedToday: true, waterGrade: 'distilled' },
  conditionReadings: [],
  instruments: {},
} as unknown as Calibration;
const first = startDraft(FLASK, earlier, [], NINE, USUAL_DEFAULTS);

describe('the start of a calibration', () => {
  it('takes over that the balance was adjusted for the rest of that day, and never for another one', () => {
    expect(first.conditions).toMatchObject({ airTemperatureC: '21.3', adjustedToday: false });
    const today = startDraft(FLASK, { ...earlier, performedOn: '2026-03-02' }, [], NINE, USUAL_DEFAULTS);
    expect(today.conditions).toMatchObject({ adjustedToday: true });
  });

  it('comes back as it was left, and what was ticked holds for that day alone', () => {
    const typed = { ...first.conditions, airTemperatureC: '19.9', adjustedToday: true, inspected: true, cleaned: true };
    const kept = { atMs: NINE, draft: { ...first, conditions: typed } };
    expect(keptStart(first, kept, NINE + 60 * MINUTE).conditions).toEqual(typed);
    const nextDay = keptStart(first, kept, NINE + 24 * 60 * MINUTE).conditions;
    expect(nextDay).toEqual({ ...typed, adjustedToday: false, inspected: false, cleaned: false });
    expect(keptStart(first, { atMs: NINE, draft: {} }, NINE)).toEqual(first);
  });

  it('says where the air in its fields comes from', () => {
    const now = NINE;
    const at = (keptAtMs: number | null, draft = first) => airHelp({ draft, keptAtMs, latest: earlier }, now);
    expect(at(null)).toBe(startText.airCarried('10 min ago'));
    expect(at(NINE - 3 * MINUTE)).toBe(startText.airKept('3 min ago'));
    const empty = { ...first, conditions: { ...first.conditions, airTemperatureC: '' } };
    expect(at(NINE - 3 * MINUTE, empty)).toBe(startText.airEmpty);
  });
});

it('a delivery kept by an earlier version of the form has the members it lacked', () => {
  const kept = { atMs: 0, draft: { name: 'Flasks', ware: { kind: 'burette' } as never } };
  const draft = keptLot(emptyLot('2026-03-02'), kept);
  expect(draft).toMatchObject({ name: 'Flasks', tagging: 'numbered' });
  expect(draft.ware).toEqual({ ...EMPTY_DRAFT, kind: 'burette' });
});
