import { useQuery, useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import type { ProgramKeyOnWire, Scope } from '../../../server/people/contract.ts';
import { get, newKey, post, send } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { peopleText } from '../../messages/en-people.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button } from '../../parts/button.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { ErrorSummary, useSubmission } from '../../parts/refusal.tsx';
import { useMay } from '../../session.ts';
import { ShownOnce } from './once.tsx';

const words = peopleText.keys;
const SCOPES = (Object.keys(words.scopes) as Scope[]).map((value) => ({ value, label: words.scopes[value] }));
type Act = { what: 'token' | 'revoke'; key: ProgramKeyOnWire };

export default function KeysPage() {
  const may = useMay();
  const [act, setAct] = useState<Act | null>(null);
  const list = useQuery({
    queryKey: ['keys'],
    queryFn: ({ signal }) => get<{ items: ProgramKeyOnWire[] }>('/api/keys', signal),
  });
  const close = () => setAct(null);
  return (
    <>
      <PageHeader
        title={words.title}
        lead={words.lead}
        within={{ href: '/settings', label: peopleText.people.within }}
      />
      <Loaded query={list} what={words.what}>
        {({ items }) => (
          <>
            {items.length === 0 ? <p>{words.none}</p> : <KeyTable items={items} onAct={may('keep') ? setAct : null} />}
            {may('keep') && <AddKey />}
          </>
        )}
      </Loaded>
      {act?.what === 'token' && <TokenDialog programKey={act.key} onClose={close} />}
      {act?.what === 'revoke' && (
        <ActDialog
          title={words.revokeTitle(act.key.name)}
          what={words.revokeWhat}
          path={`/api/keys/${act.key.id}/revocation`}
          act={words.revoke}
          send={(body) => send('POST', `/api/keys/${act.key.id}/revocation`, body)}
          onClose={close}
        />
      )}
    </>
  );
}

const stateOf = ({ revoked, hasToken }: ProgramKeyOnWire): string =>
  revoked ? words.revoked : hasToken ? words.good : words.noToken;

function KeyTable({ items, onAct }: { items: ProgramKeyOnWire[]; onAct: ((act: Act) => void) | null }) {
  return (
    <div className="table-box">
      <table className="table">
        <caption className="unseen">{words.title}</caption>
        <thead>
          <tr>
            {[words.name, words.scope, words.expiresOn, words.state].map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
            {onAct && <th scope="col">{peopleText.people.acts}</th>}
          </tr>
        </thead>
        <tbody>
          {items.map((key) => (
            <tr key={key.id}>
              <th scope="row">{key.name}</th>
              <td>{words.scopes[key.scope]}</td>
              <td>{key.expiresOn ?? text.words.none}</td>
              <td>{stateOf(key)}</td>
              {onAct && (
                <td>
                  {!key.revoked && (
                    <div className="row">
                      <Button onClick={() => onAct({ what: 'token', key })}>{words.token}</Button>
                      <Button onClick={() => onAct({ what: 'revoke', key })}>{words.revoke}</Button>
                    </div>
                  )}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function AddKey() {
  const client = useQueryClient();
  const [key, setKey] = useState(newKey);
  const [name, setName] = useState('');
  const [scope, setScope] = useState<Scope>('read');
  const [expiresOn, setExpiresOn] = useState('');
  const { refusal, busy, submit, problemAt } = useSubmission();
  const add = async (event: SubmitEvent) => {
    event.preventDefault();
    await submit(async () => {
      await post(
        '/api/keys',
        { name, scope, ...(expiresOn.trim() === '' ? {} : { expiresOn: expiresOn.trim() }) },
        key,
      );
      setKey(newKey());
      setName('');
      await client.invalidateQueries({ queryKey: ['keys'] });
    });
  };
  return (
    <Section title={words.add}>
      <form className="stack measure" onSubmit={add} noValidate>
        <ErrorSummary refusal={refusal} />
        <Field name="name" label={words.name} value={name} onChange={setName} problem={problemAt('name')} />
        <Choice name="scope" label={words.scope} value={scope} options={SCOPES} onChange={setScope} layout="list" />
        <Field
          optional
          name="expiresOn"
          label={words.expiresOn}
          help={words.expiresHelp}
          value={expiresOn}
          onChange={setExpiresOn}
          problem={problemAt('expiresOn')}
        />
        <div className="row">
          <Button type="submit" look="primary" disabled={busy}>
            {words.add}
          </Button>
        </div>
      </form>
    </Section>
  );
}

function TokenDialog({ programKey, onClose }: { programKey: ProgramKeyOnWire; onClose: () => void }) {
  const client = useQueryClient();
  const [token, setToken] = useState<string | null>(null);
  const { refusal, busy, submit } = useSubmission();
  const make = () =>
    submit(async () => {
      setToken((await send<{ token: string }>('POST', `/api/keys/${programKey.id}/token`)).token);
      await client.invalidateQueries({ queryKey: ['keys'] });
    });
  return (
    <Dialog title={words.tokenTitle(programKey.name)} onClose={onClose}>
      <ErrorSummary refusal={refusal} />
      <p>{token === null ? words.tokenWhat : words.tokenShown}</p>
      {token !== null && <ShownOnce secret={token} />}
      <div className="row">
        {token === null && (
          <Button look="primary" disabled={busy} onClick={() => void make()}>
            {words.tokenMake}
          </Button>
        )}
        <Button look="quiet" onClick={onClose}>
          {token === null ? text.form.cancel : text.form.close}
        </Button>
      </div>
    </Dialog>
  );
}
