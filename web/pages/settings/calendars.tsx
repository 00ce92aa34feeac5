import { useQuery, useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import type { FeedMade, FeedOnWire } from '../../../server/people/contract-feeds.ts';
import { get, send } from '../../api.ts';
import { calendarText as words } from '../../messages/en-today.ts';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Section } from '../../parts/page.tsx';
import { ErrorSummary, useSubmission } from '../../parts/refusal.tsx';
import { dayOf } from '../../parts/time.ts';
import { ShownOnce } from './once.tsx';

const KEY = ['calendars'] as const;

/** Due dates in a calendar program: addresses that are shown once, and their end. */
export function Calendars() {
  const list = useQuery({
    queryKey: KEY,
    queryFn: ({ signal }) => get<{ items: FeedOnWire[] }>('/api/calendars', signal),
  });
  return (
    <Section title={words.title}>
      <p className="quiet">{words.what}</p>
      <Loaded query={list} what={words.loading}>
        {({ items }) => <Running items={items.filter(({ endedAt }) => endedAt === null)} />}
      </Loaded>
      <AddCalendar />
    </Section>
  );
}

function Running({ items }: { items: readonly FeedOnWire[] }) {
  const client = useQueryClient();
  const { refusal, busy, submit } = useSubmission();
  const end = (id: string) =>
    submit(async () => {
      await send('POST', `/api/calendars/${id}/ending`, {});
      await client.invalidateQueries({ queryKey: KEY });
    });
  return (
    <>
      <ErrorSummary refusal={refusal} />
      <ul className="plain stack tight">
        {items.map(({ id, label, person, recordedAt }) => (
          <li key={id} className="row spread measure">
            <span>
              {label} <span className="quiet small">{words.made(person, dayOf(new Date(recordedAt)))}</span>
            </span>
            <Button disabled={busy} onClick={() => void end(id)}>
              {words.end(label)}
            </Button>
          </li>
        ))}
      </ul>
    </>
  );
}

function AddCalendar() {
  const client = useQueryClient();
  const [label, setLabel] = useState('');
  const [address, setAddress] = useState<string | null>(null);
  const { refusal, busy, submit, problemAt } = useSubmission();
  const add = async (event: SubmitEvent) => {
    event.preventDefault();
    await submit(async () => {
      const { path } = await send<FeedMade>('POST', '/api/calendars', { label });
      setAddress(window.location.origin + path);
      setLabel('');
      await client.invalidateQueries({ queryKey: KEY });
    });
  };
  return (
    <form className="stack measure" onSubmit={add} noValidate>
      <ErrorSummary refusal={refusal} />
      <Field
        name="label"
        label={words.label}
        help={words.labelHelp}
        value={label}
        problem={problemAt('label')}
        onChange={setLabel}
      />
      <div className="row">
        <Button type="submit" disabled={busy}>
          {words.add}
        </Button>
      </div>
      {address !== null && (
        <>
          <p>{words.once}</p>
          <ShownOnce secret={address} />
        </>
      )}
    </form>
  );
}
