import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { SessionState } from '../../server/people/contract.ts';
import { get, send } from '../api.ts';
import { peopleText } from '../messages/en-people.ts';
import { Button } from '../parts/button.tsx';
import { Field } from '../parts/field.tsx';
import { PageHeader } from '../parts/page.tsx';
import { ErrorSummary, useSubmission } from '../parts/refusal.tsx';
import { SHORTEST } from '../passphrase-rules.ts';
import { takeSession, useSession } from '../session.ts';

const words = peopleText.setUp;

export default function SetUpPage() {
  const { data } = useSession();
  return (
    <>
      <PageHeader title={words.title} lead={words.lead} />
      {data?.setupNeeded === false ? (
        <p>
          {words.done} <Link href="/settings/people">{peopleText.people.title}</Link>
        </p>
      ) : (
        <SetUpForm />
      )}
    </>
  );
}

function SetUpForm() {
  const client = useQueryClient();
  const [, go] = useLocation();
  const { refusal, busy, submit, problemAt } = useSubmission();
  const [code, setCode] = useState('');
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const setUp = async (event: SubmitEvent) => {
    event.preventDefault();
    await submit(async () => {
      await send('POST', '/api/setup', { code, name, password });
      go('/settings/people');
      await takeSession(client, await get<SessionState>('/api/session'));
    });
  };
  return (
    <form className="stack measure" onSubmit={setUp} noValidate>
      <ErrorSummary refusal={refusal} />
      <Field
        name="code"
        label={words.code}
        help={words.codeHelp}
        value={code}
        onChange={setCode}
        problem={problemAt('code')}
      />
      <Field
        name="name"
        label={words.name}
        help={words.nameHelp}
        value={name}
        onChange={setName}
        problem={problemAt('name')}
        autoComplete="username"
      />
      <Field
        secret
        name="password"
        label={words.passphrase}
        help={peopleText.signIn.chosenHelp(SHORTEST)}
        value={password}
        onChange={setPassword}
        problem={problemAt('password')}
        autoComplete="new-password"
      />
      <div className="row">
        <Button type="submit" look="primary" bench disabled={busy}>
          {words.act}
        </Button>
      </div>
    </form>
  );
}
