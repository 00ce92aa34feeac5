import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useSearchParams } from 'wouter';
import type { LabelFacts } from '../../../server/labels/contract.ts';
import { get, withQuery } from '../../api.ts';

/** Which vessels: named in the address, so that a list, a vessel or a lot leads here. */
export function useChosen() {
  const [address, setAddress] = useSearchParams();
  const lot = address.get('lot');
  const ids = (address.get('vessels') ?? '').split(',').filter((id) => id !== '');
  const labels = useQuery({
    queryKey: ['labels', lot, ids.join(',')],
    queryFn: ({ signal }) => {
      if (lot === null && ids.length === 0) return { items: [] };
      const query = lot === null ? { vessels: ids.join(',') } : { lot };
      return get<{ items: LabelFacts[] }>(withQuery('/api/labels', query), signal);
    },
    placeholderData: keepPreviousData,
  });
  /** From here on the vessels stand in the address one by one. */
  const choose = (chosen: readonly string[]) => setAddress({ vessels: chosen.join(',') }, { replace: true });
  return { labels, choose };
}
