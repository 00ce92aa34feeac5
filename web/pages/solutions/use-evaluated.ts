import { keepPreviousData, useQuery } from '@tanstack/react-query';
import type { FormulaReply, SolutionResult } from '../../../server/solutions/contract.ts';
import { get, isRefusal, newKey, post, withQuery } from '../../api.ts';
import { refusalOf } from '../../parts/refusal.tsx';
import { useSettled } from '../../parts/use-settled.ts';
import { solutionKeys } from './queries.ts';

const PAUSE_MS = 350;
const MINUTE_MS = 60_000;

/**
 * What a solution comes to while it is typed; nothing is stored.
 * @param body null while something in it cannot be read yet
 */
export function useEvaluated(body: object | null) {
  const asked = useSettled(body === null ? '' : JSON.stringify(body), PAUSE_MS);
  const query = useQuery({
    queryKey: solutionKeys.evaluated(asked),
    queryFn: () => post<SolutionResult>('/api/solutions/evaluate', JSON.parse(asked), newKey()),
    enabled: asked !== '',
    placeholderData: keepPreviousData,
    staleTime: MINUTE_MS,
  });
  const refusal = query.isError && isRefusal(query.error) ? refusalOf(query.error) : null;
  return {
    result: asked === '' || query.isError ? undefined : query.data,
    isBusy: query.isFetching || query.isPlaceholderData,
    refusal,
    problemAt: (field: string) => refusal?.fields.find((one) => one.field === field)?.detail,
  };
}
export type Evaluated = ReturnType<typeof useEvaluated>;

/** What a formula says of its substance. */
export function useFormula(typed: string) {
  const text = useSettled(typed.trim(), PAUSE_MS);
  const query = useQuery({
    queryKey: solutionKeys.formula(text),
    queryFn: ({ signal }) => get<FormulaReply>(withQuery('/api/solutions/formula', { text }), signal),
    enabled: text !== '',
    staleTime: Infinity,
  });
  // What is known of the formula before must not be kept with this one.
  const isBeingRead = text !== typed.trim() || (text !== '' && query.isPending);
  return { ...query, isBeingRead };
}
export type FormulaRead = ReturnType<typeof useFormula>;

/** Why a formula cannot be read; a lost connection is told elsewhere. */
export const formulaProblem = (formula: FormulaRead): string | undefined =>
  formula.isError && isRefusal(formula.error) ? refusalOf(formula.error).fields[0]?.detail : undefined;
