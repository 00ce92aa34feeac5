import { useQuery } from '@tanstack/react-query';
import { useDeferredValue, useState } from 'react';
import { Link } from 'wouter';
import { text } from '../messages/en.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { benchRoomText } from '../messages/en-bench.ts';
import { startText } from '../messages/en-start.ts';
import { LinkButton } from '../parts/button.tsx';
import { Field } from '../parts/field.tsx';
import { ForBench } from '../parts/for-bench.tsx';
import { KindMark } from '../parts/kind-mark.tsx';
import { Loaded } from '../parts/loading.tsx';
import { OpenCalibrations } from '../parts/open-calibrations.tsx';
import { PageHeader, Section } from '../parts/page.tsx';
import { fetchVessels, keys, useOpenCalibrations } from '../queries.ts';
import TypeSheet from './bench/type-sheet.tsx';
import './bench-room.css';

/** What is open, and a vessel to begin with. */
export default function BenchRoomPage() {
  const open = useOpenCalibrations();
  const [nowMs] = useState(Date.now);
  return (
    <>
      <PageHeader title={benchRoomText.title} lead={benchRoomText.lead} />
      <Section title={benchRoomText.openTitle}>
        <Loaded query={open} what={benchRoomText.openWhat}>
          {({ items }) =>
            items.length === 0 ? (
              <p className="quiet">
                {benchRoomText.emptyTitle}. {benchRoomText.emptyWhat}
              </p>
            ) : (
              <OpenCalibrations items={items} nowMs={nowMs} />
            )
          }
        </Loaded>
      </Section>
      <ForBench>
        <Section
          title={benchRoomText.pickTitle}
          aside={<LinkButton href="/glassware/new">{vesselText.add}</LinkButton>}
        >
          <PickVessel />
        </Section>
        <Section title={startText.typeSheet}>
          <TypeSheet help={benchRoomText.sheetHelp} />
        </Section>
      </ForBench>
    </>
  );
}

function PickVessel() {
  const [search, setSearch] = useState('');
  const searched = useDeferredValue(search);
  const vessels = useQuery({
    queryKey: [...keys.vessels, 'pick', searched],
    queryFn: ({ signal }) => fetchVessels({ search: searched }, signal),
    placeholderData: (before) => before,
  });
  return (
    <div className="stack">
      <Field
        name="search"
        label={vesselText.search}
        help={benchRoomText.pickHelp}
        width="medium"
        value={search}
        onChange={setSearch}
      />
      <Loaded query={vessels} what={benchRoomText.vesselsWhat}>
        {({ items }) => (
          <ul className="plain pick-list">
            {items
              .filter((vessel) => vessel.inUse)
              .map((vessel) => (
                <li key={vessel.id}>
                  <Link
                    className="pick-item"
                    href={
                      vessel.latest?.state === 'open' ? `/bench/${vessel.latest.id}` : `/bench/new?vessel=${vessel.id}`
                    }
                  >
                    <KindMark kind={vessel.kind} />
                    <span>
                      <strong>{vessel.tag}</strong>
                      <span className="pick-what">
                        {vesselText.what(vessel.nominalVolumeMl, text.words.vesselKinds[vessel.kind])}
                      </span>
                    </span>
                  </Link>
                </li>
              ))}
          </ul>
        )}
      </Loaded>
    </div>
  );
}
