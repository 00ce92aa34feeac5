import { useQuery } from '@tanstack/react-query';
import { useSearchParams } from 'wouter';
import type { DistributionOnWire, MakerList } from '../../server/over-time/contract.ts';
import { get, withQuery } from '../api.ts';
import { text } from '../messages/en.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { acceptanceText, distributionText, makersText } from '../messages/en-over-time.ts';
import { Acceptance } from '../parts/acceptance.tsx';
import { Distribution } from '../parts/distribution.tsx';
import { Select } from '../parts/field.tsx';
import { Loaded } from '../parts/loading.tsx';
import { PageHeader, Section } from '../parts/page.tsx';
import { keys } from '../queries.ts';

const words = makersText;

/** Errors of what one maker delivered, and what a sample tells of a delivery. */
export default function MakersPage() {
  const wares = useQuery({
    queryKey: [...keys.vessels, 'makers'],
    queryFn: ({ signal }) => get<MakerList>('/api/makers', signal),
  });
  return (
    <>
      <PageHeader title={words.title} within={{ href: '/glassware', label: vesselText.title }} lead={words.lead} />
      <Section title={distributionText.title}>
        <Loaded query={wares} what={words.what}>
          {({ items }) => (items.length === 0 ? <p className="quiet">{words.none}</p> : <Wares items={items} />)}
        </Loaded>
      </Section>
      <Section title={acceptanceText.title}>
        <Acceptance />
      </Section>
    </>
  );
}

type Ware = MakerList['items'][number];

const nameOf = ({ maker, kind, nominalVolumeMl }: Ware): string => [kind, nominalVolumeMl, maker ?? ''].join('|');

function Wares({ items }: { items: readonly Ware[] }) {
  const [address, setAddress] = useSearchParams();
  const chosen = items.find((ware) => nameOf(ware) === address.get('ware')) ?? items[0];
  const query = useQuery({
    queryKey: [...keys.vessels, 'distribution', chosen ? nameOf(chosen) : ''],
    queryFn: ({ signal }) => {
      const { kind = '', nominalVolumeMl = '', maker = null } = chosen ?? {};
      const path = withQuery('/api/distribution', { kind, nominalVolumeMl, maker: maker ?? undefined });
      return get<DistributionOnWire>(maker === null ? `${path}&maker=` : path, signal);
    },
    enabled: chosen !== undefined,
  });
  if (!chosen) return null;
  return (
    <div className="stack">
      <Select
        name="ware"
        label={words.ware}
        value={nameOf(chosen)}
        options={items.map((ware) => ({
          value: nameOf(ware),
          label: words.option(
            ware.maker ?? words.unknownMaker,
            ware.nominalVolumeMl,
            text.words.vesselKinds[ware.kind],
            ware.vessels,
          ),
        }))}
        onChange={(ware) => setAddress({ ware }, { replace: true })}
      />
      <Loaded query={query} what={distributionText.what}>
        {(data) => <Distribution data={data} />}
      </Loaded>
    </div>
  );
}
