import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { SHORTEST } from '../passphrase-rules.ts';
import type { SessionState } from '../../server/people/contract.ts';
import { ProblemError, send } from '../api.ts';
import { peopleText } from '../messages/en-people.ts';
import { takeSession, useSession } from '../session.ts';
import { Button } from './button.tsx';
import { Field, Tick } from './field.tsx';
import { ErrorSummary, useSubmission } from './refusal.tsx';

const words = peopleText.signIn;

/** Name and passphrase, or a one-time code with the passphrase chosen now; a second factor when it is asked for. */
export function SignInForm({ name: known = '', onDone }: { name?: string; onDone: (state: SessionState) => void }) {
  const client = useQueryClient();
  const submission = useSubmission();
  const [name, setName] = useState(known);
  const [password, setPassword] = useState('');
  const [hasCode, setHasCode] = useState(false);
  const [code, setCode] = useState('');
  const [asksFactor, setAsksFactor] = useState(false);
  const [secondFactor, setSecondFactor] = useState('');
  const signIn = async (event: SubmitEvent) => {
    event.preventDefault();
    await submission.submit(async () => {
      const body = { name, password, ...(hasCode ? { code } : {}), ...(secondFactor === '' ? {} : { secondFactor }) };
      try {
        const state = await send<SessionState>('POST', '/api/session', body);
        onDone(state);
        await takeSession(client, state);
      } catch (error) {
        if (error instanceof ProblemError && error.code === 'second-factor-needed') setAsksFactor(true);
        throw error;
      }
    });
  };
  return (
    <form className="stack measure" onSubmit={signIn} noValidate>
      <ErrorSummary refusal={submission.refusal} />
      <Field name="signInName" label={words.name} value={name} onChange={setName} autoComplete="username" />
      {hasCode && <Field name="signInCode" label={words.code} help={words.codeHelp} value={code} onChange={setCode} />}
      <Field
        secret
        name="signInPassword"
        label={hasCode ? words.chosenPassphrase : words.passphrase}
        help={hasCode ? words.chosenHelp(SHORTEST) : undefined}
        problem={submission.problemAt('password')}
        value={password}
        onChange={setPassword}
        autoComplete={hasCode ? 'new-password' : 'current-password'}
      />
      {asksFactor && !hasCode && (
        <Field
          name="signInSecondFactor"
          label={words.secondFactor}
          help={words.secondFactorHelp}
          value={secondFactor}
          onChange={setSecondFactor}
          autoComplete="one-time-code"
        />
      )}
      <Tick name="signInHasCode" label={words.oneTime} checked={hasCode} onChange={setHasCode} />
      <div className="row">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {words.act}
        </Button>
      </div>
      <p className="quiet small">{words.lost}</p>
    </form>
  );
}

/** Who was signed in here last, so that only the passphrase has to be typed. */
export const useLastName = (): string => useSession().data?.person?.name ?? '';
