import { Link } from 'wouter';
import type { Instrument, InstrumentKind } from '../../../server/instruments/contract.ts';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { LoadFailed, Loading } from '../../parts/loading.tsx';
import { Empty, PageHeader, Section } from '../../parts/page.tsx';
import { useRegister } from './data.ts';
import { KINDS } from './draft.ts';
import { Due } from './due.tsx';

export function InstrumentList() {
  const register = useRegister();
  const instruments = register.data?.pages.flatMap((page) => page.items);
  const isEmpty = instruments?.length === 0;
  return (
    <>
      <PageHeader
        title={instrumentsText.title}
        lead={instrumentsText.lead}
        actions={
          !isEmpty && (
            <ForBench>
              <LinkButton href="/new" look="primary">
                {instrumentsText.register}
              </LinkButton>
            </ForBench>
          )
        }
      />
      {instruments === undefined &&
        (register.isError ? (
          <LoadFailed error={register.error} onRetry={() => void register.refetch()} />
        ) : (
          <Loading what={instrumentsText.what} />
        ))}
      {isEmpty && (
        <Empty
          title={instrumentsText.emptyTitle}
          action={
            <ForBench>
              <LinkButton href="/new" look="primary">
                {instrumentsText.register}
              </LinkButton>
            </ForBench>
          }
        >
          <p>{instrumentsText.empty}</p>
        </Empty>
      )}
      {KINDS.map((kind) => (
        <KindSection key={kind} kind={kind} instruments={instruments ?? []} />
      ))}
      {register.hasNextPage && (
        <Button onClick={() => void register.fetchNextPage()} disabled={register.isFetchingNextPage}>
          {instrumentsText.moreToCome}
        </Button>
      )}
    </>
  );
}

function KindSection({ kind, instruments }: { kind: InstrumentKind; instruments: readonly Instrument[] }) {
  const ofKind = instruments.filter((one) => one.kind === kind);
  if (ofKind.length === 0) return null;
  return (
    <Section title={instrumentsText.kinds[kind].many} aside={<span className="quiet small">{ofKind.length}</span>}>
      <ul className="plain instrument-rows">
        {ofKind.map((instrument) => (
          <li key={instrument.id} data-out={instrument.inUse ? undefined : ''}>
            <InstrumentRow instrument={instrument} />
          </li>
        ))}
      </ul>
    </Section>
  );
}

/** What tells two instruments of one kind apart, in few words. */
export const summaryOf = (instrument: Instrument): string => {
  const step = instrument.resolutionG ?? instrument.resolutionC;
  const corrections = instrument.corrections?.length ?? 0;
  return [
    [instrument.maker, instrument.model].filter(Boolean).join(' '),
    step === undefined ? '' : instrumentsText.summary.step(step, instrument.kind === 'balance' ? 'g' : '°C'),
    corrections === 0 ? '' : instrumentsText.summary.corrections(corrections),
  ]
    .filter((part) => part !== '')
    .join(' · ');
};

function InstrumentRow({ instrument }: { instrument: Instrument }) {
  return (
    <Link href={`/${instrument.id}`} className="instrument-row">
      <strong className="instrument-tag">{instrument.tag}</strong>
      <span className="instrument-what">
        {summaryOf(instrument)}
        {!instrument.inUse && <span className="out-of-use">{instrumentsText.outOfUse}</span>}
      </span>
      <span className="quiet">{instrument.location}</span>
      <span className="instrument-certificate">
        <span className="quiet small">
          {instrument.certificateNumber
            ? instrumentsText.certificate(instrument.certificateNumber)
            : instrumentsText.noCertificate}
        </span>
        <Due dueOn={instrument.dueOn} overdue={instrument.overdue} />
      </span>
    </Link>
  );
}
