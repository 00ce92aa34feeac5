import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { Link } from 'wouter';
import type { SecondFactorBegun, SignedIn } from '../../../server/people/contract.ts';
import { send } from '../../api.ts';
import { peopleText } from '../../messages/en-people.ts';
import { unsentCount } from '../../outbox.ts';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { ErrorSummary, useSubmission } from '../../parts/refusal.tsx';
import { SHORTEST } from '../../passphrase-rules.ts';
import { useSession } from '../../session.ts';
import { useDeeds } from '../../use-deeds.ts';
import { useOutbox } from '../../use-outbox.ts';
import { Calendars } from './calendars.tsx';

const words = peopleText.own;

export default function MyAccessPage() {
  const session = useSession();
  return (
    <>
      <PageHeader title={words.title} within={{ href: '/settings', label: peopleText.people.within }} />
      <Loaded query={session} what={words.what}>
        {({ person }) =>
          person === null ? (
            <p>
              {words.nobody} <Link href="/sign-in">{peopleText.signIn.title}</Link>
            </p>
          ) : (
            <>
              <SignOut person={person} />
              <Passphrase />
              <SecondFactor person={person} />
              <Calendars />
            </>
          )
        }
      </Loaded>
    </>
  );
}

function SignOut({ person }: { person: SignedIn }) {
  const { entries } = useOutbox();
  const { list } = useDeeds();
  const unsent = unsentCount(entries) + list.length;
  const { refusal, busy, submit } = useSubmission();
  const signOut = () =>
    submit(async () => {
      await send('DELETE', '/api/session');
      // A new page: nothing of what was shown stays in memory. Entries that are not sent are kept apart from it.
      window.location.replace('/sign-in');
    });
  return (
    <div className="stack">
      <ErrorSummary refusal={refusal} />
      <p>{words.signedInAs(person.name, peopleText.roles[person.role])}</p>
      {unsent > 0 && <Notice tone="strong">{words.signOutUnsent(unsent)}</Notice>}
      <div className="row">
        <Button disabled={busy} onClick={() => void signOut()}>
          {words.signOut}
        </Button>
      </div>
    </div>
  );
}

function Passphrase() {
  const [password, setPassword] = useState('');
  const [newPassword, setNewPassword] = useState('');
  const [isChanged, setIsChanged] = useState(false);
  const { refusal, busy, submit, problemAt } = useSubmission();
  const change = async (event: SubmitEvent) => {
    event.preventDefault();
    setIsChanged(false);
    await submit(async () => {
      await send('POST', '/api/session/passphrase', { password, newPassword });
      setPassword('');
      setNewPassword('');
      setIsChanged(true);
    });
  };
  return (
    <Section title={words.passphrase}>
      <form className="stack measure" onSubmit={change} noValidate>
        <ErrorSummary refusal={refusal} />
        <Field
          secret
          name="password"
          label={words.present}
          value={password}
          onChange={setPassword}
          problem={problemAt('password')}
          autoComplete="current-password"
        />
        <Field
          secret
          name="newPassword"
          label={words.next}
          help={peopleText.signIn.chosenHelp(SHORTEST)}
          value={newPassword}
          onChange={setNewPassword}
          problem={problemAt('newPassword')}
          autoComplete="new-password"
        />
        <div className="row">
          <Button type="submit" disabled={busy}>
            {words.change}
          </Button>
        </div>
        <p role="status">{isChanged ? words.changed : ''}</p>
      </form>
    </Section>
  );
}

function SecondFactor({ person }: { person: SignedIn }) {
  const [begun, setBegun] = useState<SecondFactorBegun | null>(null);
  const [recovery, setRecovery] = useState<string[] | null>(null);
  const { refusal, busy, submit } = useSubmission();
  const isOffered = person.role === 'keeper' || person.role === 'auditor' || person.mayIssue;
  const begin = () => submit(async () => setBegun(await send<SecondFactorBegun>('POST', '/api/session/second-factor')));
  return (
    <Section title={words.secondFactor}>
      <p>{person.secondFactor ? words.on : words.off}</p>
      <ErrorSummary refusal={refusal} />
      {recovery && (
        <Notice tone="strong">
          <p>{words.recovery}</p>
          <ul className="plain">
            {recovery.map((code) => (
              <li key={code}>
                <code>{code}</code>
              </li>
            ))}
          </ul>
        </Notice>
      )}
      {person.secondFactor && <RemoveFactor />}
      {!person.secondFactor && !isOffered && <p className="quiet">{words.notOffered}</p>}
      {!person.secondFactor && isOffered && begun === null && (
        <Button disabled={busy} onClick={() => void begin()}>
          {words.begin}
        </Button>
      )}
      {!person.secondFactor && begun && <ConfirmFactor begun={begun} onDone={setRecovery} />}
    </Section>
  );
}

function ConfirmFactor({ begun, onDone }: { begun: SecondFactorBegun; onDone: (codes: string[]) => void }) {
  const client = useQueryClient();
  const [code, setCode] = useState('');
  const { refusal, busy, submit, problemAt } = useSubmission();
  const confirm = async (event: SubmitEvent) => {
    event.preventDefault();
    await submit(async () => {
      const { recoveryCodes } = await send<{ recoveryCodes: string[] }>(
        'POST',
        '/api/session/second-factor/confirmation',
        { code },
      );
      onDone(recoveryCodes);
      await client.invalidateQueries({ queryKey: ['session'] });
    });
  };
  return (
    <form className="stack measure" onSubmit={confirm} noValidate>
      <p>{words.scan}</p>
      <img
        className="square-code"
        alt={words.picture}
        src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(begun.svg)}`}
      />
      <p>
        {words.secret}: <code>{begun.secret}</code>
      </p>
      <ErrorSummary refusal={refusal} />
      <Field
        name="code"
        label={words.code}
        value={code}
        onChange={setCode}
        problem={problemAt('code')}
        autoComplete="one-time-code"
        inputMode="numeric"
      />
      <div className="row">
        <Button type="submit" look="primary" disabled={busy}>
          {words.confirm}
        </Button>
      </div>
    </form>
  );
}

function RemoveFactor() {
  const client = useQueryClient();
  const [password, setPassword] = useState('');
  const { refusal, busy, submit, problemAt } = useSubmission();
  const remove = async (event: SubmitEvent) => {
    event.preventDefault();
    await submit(async () => {
      await send('POST', '/api/session/second-factor/removal', { password });
      await client.invalidateQueries({ queryKey: ['session'] });
    });
  };
  return (
    <form className="stack measure" onSubmit={remove} noValidate>
      <ErrorSummary refusal={refusal} />
      <Field
        secret
        name="removalPassword"
        label={words.present}
        value={password}
        onChange={setPassword}
        problem={problemAt('password')}
        autoComplete="current-password"
      />
      <div className="row">
        <Button type="submit" disabled={busy}>
          {words.remove}
        </Button>
      </div>
    </form>
  );
}
