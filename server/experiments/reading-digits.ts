/** Whether the digits of a reading are those a balance of the room shows; a remark, never a refusal. Pure. */
import { decimalsOf } from '../metrology/decimal.ts';

interface Readings {
  emptyG: string;
  filledG: string;
}

/** @param resolutionsG last digits of the balances of the room, as typed */
export const findingsForReadings = (
  resolutionsG: readonly string[],
  { emptyG, filledG }: Readings,
): { code: string; detail: string }[] => {
  if (resolutionsG.length === 0) return [];
  const shown = new Set(resolutionsG.map((text) => decimalsOf(text.replace(/0+$/, '') || text)));
  const typed = [emptyG, filledG].map(decimalsOf);
  const isAsShown = typed.every((decimals) => shown.has(decimals)) && typed[0] === typed[1];
  if (isAsShown) return [];
  const expected = [...shown].sort((first, second) => first - second).join(' or ');
  const detail = `The balances show ${expected} digits behind the point. Type every digit that is displayed, zeros included.`;
  return [{ code: 'digits-not-as-displayed', detail }];
};
