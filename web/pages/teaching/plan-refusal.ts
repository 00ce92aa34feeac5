/** What a refusal of a plan still says while its fields are put right, one after another. Pure. */
import type { FormRefusal } from '../../parts/refusal.tsx';
import { readPlan, type PlanDraft, type RowDraft } from './plan-draft.ts';

/** Fields that the request calls otherwise than the form. */
const TYPED_AS: Partial<Record<string, keyof RowDraft>> = { trialsPerGroup: 'trials', vesselIds: 'vessels' };

/** What was typed into the field that a refusal names. */
function typedAt(draft: PlanDraft, field: string): string {
  const [list = '', index = '', name = ''] = field.split('/');
  if (list === 'rows') {
    const row = draft.rows[Number(index)];
    if (!row) return '';
    const { limit, marked } = row;
    return JSON.stringify(name === 'tolerance' ? [limit, marked] : row[TYPED_AS[name] ?? (name as keyof RowDraft)]);
  }
  if (list === 'balances') return JSON.stringify(draft.balances[Number(index)]);
  const typed = draft as unknown as Record<string, unknown>;
  return JSON.stringify(typed[list === 'conditions' ? index : list]);
}

/** Rows and balances are refused by their place, which another one has once one is taken out. */
const hasMoved = (before: PlanDraft, after: PlanDraft, field: string): boolean =>
  (field.startsWith('rows/') && before.rows.length !== after.rows.length) ||
  (field.startsWith('balances/') && before.balances.length !== after.balances.length);

/** A field that was changed is named no longer, unless what stands there cannot be read either. */
export function stillRefused(refusal: FormRefusal | null, before: PlanDraft, after: PlanDraft): FormRefusal | null {
  if (refusal === null || refusal.fields.length === 0) return refusal;
  // Which tags the register has is known when the plan is sent.
  const { problems } = readPlan({ ...after, rows: after.rows.map((row) => ({ ...row, vessels: '' })) });
  const fields = refusal.fields.flatMap((one) => {
    if (hasMoved(before, after, one.field)) return [];
    if (typedAt(before, one.field) === typedAt(after, one.field)) return [one];
    const detail = problems[one.field];
    if (detail === undefined) return [];
    return detail === one.detail ? [one] : [{ ...one, detail }];
  });
  if (fields.length === 0) return null;
  const isSame = fields.length === refusal.fields.length && fields.every((one, index) => one === refusal.fields[index]);
  return isSame ? refusal : { ...refusal, fields, isRest: true };
}
