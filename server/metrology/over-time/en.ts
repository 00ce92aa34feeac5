/**
 * E_n of a result against that of an outside laboratory: (x − x_ref)/√(U² + U_ref²), both U with k = 2. Not more than 1
 * on either side is satisfactory. It holds for independent results only; two results of one laboratory share weights and
 * instruments, and their change is judged by E_Δ.
 * @param own and outside: volumes in mL with expanded uncertainties in mL, k = 2
 * @returns no unit; null where both uncertainties are 0
 * @source iso-13528-2022, E_n score
 */
export function normalisedError(
  own: { meanMl: number; expandedUncertaintyMl: number },
  outside: { meanMl: number; expandedUncertaintyMl: number },
): number | null {
  const spread = Math.hypot(own.expandedUncertaintyMl, outside.expandedUncertaintyMl);
  return spread === 0 ? null : (own.meanMl - outside.meanMl) / spread;
}
