import { useQuery } from '@tanstack/react-query';
import type { LotWithVessels } from '../../../server/lots/contract.ts';
import type { DistributionOnWire } from '../../../server/over-time/contract.ts';
import { get, withQuery } from '../../api.ts';
import { distributionText } from '../../messages/en-over-time.ts';
import { Distribution } from '../../parts/distribution.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Section } from '../../parts/page.tsx';
import { keys } from '../../queries.ts';

/** Errors of the delivery side by side, and how many of its vessels keep which class. */
export function LotResults({ lot }: { lot: LotWithVessels }) {
  const query = useQuery({
    // A vessel more that has left the bench is another answer.
    queryKey: [...keys.lots, lot.id, 'distribution', lot.progress.measured, lot.progress.outOfUse],
    queryFn: ({ signal }) => get<DistributionOnWire>(withQuery('/api/distribution', { lotId: lot.id }), signal),
  });
  return (
    <Section title={distributionText.title}>
      <Loaded query={query} what={distributionText.what}>
        {(data) => <Distribution data={data} hasList={false} />}
      </Loaded>
    </Section>
  );
}
