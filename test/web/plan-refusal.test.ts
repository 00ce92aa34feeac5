import { describe, expect, it } from 'vitest';
import { refusedHere } from '../../web/parts/refusal.tsx';
import { planDraft, readPlan, type PlanDraft } from '../../web/pages/teaching/plan-draft.ts';
import { stillRefused } from '../../web/pages/teaching/plan-refusal.ts';

const row = (key: string) => ({
  ...{ key, label: key, kind: 'volumetric-flask' as const, nominalVolumeMl: '25', basis: 'contain' as const },
  ...{ material: 'glass' as const, referenceTemperatureC: '20' as const, trialsPerGroup: 3 },
});
const sound: PlanDraft = planDraft({
  ...{ title: 'Two flasks', question: 'Which?', design: 'by-row', rows: [row('one'), row('two')] },
  ...{ balances: [{ label: 'Balance 1' }], expectedGroups: 8, lessonMinutes: 45, conditions: {}, cautionNote: null },
  asks: { prediction: true, within: true, sureness: true },
});
const withRow = (draft: PlanDraft, index: number, changes: Partial<PlanDraft['rows'][number]>): PlanDraft => ({
  ...draft,
  rows: draft.rows.map((one, at) => (at === index ? { ...one, ...changes } : one)),
});
const named = (refusal: ReturnType<typeof stillRefused>) => refusal?.fields.map(({ field }) => field) ?? [];

describe('the refusal of a plan', () => {
  const wrong = withRow(withRow({ ...sound, expectedGroups: 'many' }, 0, { trials: '0' }), 1, { trials: '99' });
  const refusal = refusedHere(readPlan(wrong).problems);

  it('names fewer fields as they are put right, and goes with the last one', () => {
    expect(named(refusal)).toEqual(['rows/0/trialsPerGroup', 'rows/1/trialsPerGroup', 'expectedGroups']);
    const first = withRow(wrong, 0, { trials: '3' });
    const second = { ...first, expectedGroups: '8' };
    const rest = stillRefused(refusal, wrong, first);
    expect(named(rest)).toEqual(['rows/1/trialsPerGroup', 'expectedGroups']);
    // Whoever types on is not called back to what is left.
    expect(rest?.isRest).toBe(true);
    const last = stillRefused(rest, first, second);
    expect(named(last)).toEqual(['rows/1/trialsPerGroup']);
    expect(stillRefused(last, second, withRow(second, 1, { trials: '5' }))).toBeNull();
  });

  it('stays as it is where another field was changed, or what was typed anew cannot be read either', () => {
    expect(stillRefused(refusal, wrong, { ...wrong, title: 'Other' })).toBe(refusal);
    expect(named(stillRefused(refusal, wrong, withRow(wrong, 0, { trials: '40' })))).toEqual(named(refusal));
  });

  it('forgets what only the server knows once the field is changed, and the rows once one is taken out', () => {
    const unknown = refusedHere({ 'rows/0/vesselIds': 'No such vessel.', title: 'Say a title.' });
    const typed = withRow(sound, 0, { vessels: 'NO-SUCH-1' });
    expect(named(stillRefused(unknown, typed, withRow(typed, 0, { vessels: 'F-0317' })))).toEqual(['title']);
    expect(named(stillRefused(unknown, typed, { ...typed, rows: typed.rows.slice(1) }))).toEqual(['title']);
    expect(stillRefused(unknown, typed, { ...typed, lessonMinutes: '60' })).toBe(unknown);
  });
});
