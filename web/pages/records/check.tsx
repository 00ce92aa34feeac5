import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import type { JournalCheck } from '../../../server/journal/contract.ts';
import { get, isRefusal, send } from '../../api.ts';
import { recordsText } from '../../messages/en-records.ts';
import { Button } from '../../parts/button.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/page.tsx';
import { moment } from '../../parts/time.ts';

const words = recordsText.check;
const KEY = ['journal', 'check'];
const PATH = '/api/journal/check';
const ASK_EVERY_MS = 500;

/** Every entry and every row of the record looked at again, by whoever wants to know; others go on working meanwhile. */
export function CheckSection() {
  const client = useQueryClient();
  const [refused, setRefused] = useState<string | null>(null);
  const check = useQuery({
    queryKey: KEY,
    queryFn: ({ signal }) => get<JournalCheck>(PATH, signal),
    refetchInterval: ({ state }) => (state.data?.state === 'running' ? ASK_EVERY_MS : false),
  }).data;
  const begin = async (): Promise<void> => {
    setRefused(null);
    try {
      client.setQueryData(KEY, await send<JournalCheck>('POST', PATH));
    } catch (error) {
      setRefused(isRefusal(error) ? error.message : String(error));
    }
  };
  const isRunning = check?.state === 'running';
  return (
    <Section
      title={words.title}
      aside={
        <Button onClick={() => void begin()} disabled={isRunning}>
          {words.begin}
        </Button>
      }
    >
      <p className="measure quiet">{words.what}</p>
      {refused !== null && <Notice tone="strong">{refused}</Notice>}
      <div role="status">{check && <Outcome check={check} />}</div>
    </Section>
  );
}

function Outcome({ check }: { check: JournalCheck }) {
  if (check.state === 'idle') return <p>{words.idle}</p>;
  if (check.state === 'running') {
    const { done, total } = check;
    return (
      <>
        <progress {...(total > 0 ? { max: total, value: done } : {})} aria-label={words.title} />
        <p>{words.running(done, total)}</p>
      </>
    );
  }
  const { fault, entries, head, at } = check;
  if (fault)
    return (
      <Notice tone="strong">
        <strong>{words.fault}</strong> {fault.fault} {words.keep}{' '}
        {fault.number !== null && <Link href="/journal">{words.toJournal}</Link>}
      </Notice>
    );
  return (
    <Notice>
      {words.whole(entries, moment(at))} {head && <code className="hash">{head.hash}</code>}
    </Notice>
  );
}
