import { useQuery, useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import type { OneTimeCode, PersonOnWire, Role } from '../../../server/people/contract.ts';
import { get, newKey, post, send } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { peopleText } from '../../messages/en-people.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button } from '../../parts/button.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { Beside, useEditBeside, versionsRows } from '../../parts/edit-beside.tsx';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { ErrorSummary, useSubmission } from '../../parts/refusal.tsx';
import { useMay } from '../../session.ts';
import { ShownOnce } from './once.tsx';

const words = peopleText.people;
const ROLES = Object.keys(peopleText.roles) as Role[];
const ROLE_OPTIONS = ROLES.map((value) => ({
  value,
  label: peopleText.roles[value],
  help: peopleText.rolesHelp[value],
}));
type Act = { what: 'change' | 'code' | 'sign-out'; person: PersonOnWire };

export default function PeoplePage() {
  const may = useMay();
  const [act, setAct] = useState<Act | null>(null);
  const people = useQuery({
    queryKey: ['people'],
    queryFn: ({ signal }) => get<{ items: PersonOnWire[] }>('/api/people', signal),
  });
  const close = () => setAct(null);
  return (
    <>
      <PageHeader title={words.title} lead={words.lead} within={{ href: '/settings', label: words.within }} />
      <Loaded query={people} what={words.what}>
        {({ items }) => (
          <>
            {items.length === 0 ? (
              <p>{words.noneYet}</p>
            ) : (
              <PeopleTable items={items} onAct={may('keep') ? setAct : null} />
            )}
            {may('keep') && <AddPerson />}
          </>
        )}
      </Loaded>
      {act?.what === 'change' && <ChangePerson person={act.person} onClose={close} />}
      {act?.what === 'code' && <CodeDialog person={act.person} onClose={close} />}
      {act?.what === 'sign-out' && (
        <ActDialog
          title={words.signOut}
          what={words.signOutWhat(act.person.name)}
          path={`/api/people/${act.person.id}/sign-out`}
          act={words.signOut}
          needsReason={false}
          send={() => send('POST', `/api/people/${act.person.id}/sign-out`)}
          onClose={close}
        />
      )}
    </>
  );
}

const stateOf = (person: PersonOnWire): string => {
  if (!person.active) return words.inactive;
  if (person.codeExpiresAt !== null) return words.codeWaits;
  return person.canSignIn ? words.active : words.noPassphrase;
};

function PeopleTable({ items, onAct }: { items: PersonOnWire[]; onAct: ((act: Act) => void) | null }) {
  return (
    <div className="table-box">
      <table className="table">
        <caption className="unseen">{words.title}</caption>
        <thead>
          <tr>
            {[words.name, words.role, words.mayIssue, words.state].map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
            {onAct && <th scope="col">{words.acts}</th>}
          </tr>
        </thead>
        <tbody>
          {items.map((person) => (
            <tr key={person.id}>
              <th scope="row">{person.name}</th>
              <td>{peopleText.roles[person.role]}</td>
              <td>{person.mayIssue ? text.words.yes : text.words.no}</td>
              <td>
                {stateOf(person)}, {person.secondFactor ? words.secondFactorOn : words.secondFactorOff}
              </td>
              {onAct && (
                <td>
                  <div className="row">
                    <Button onClick={() => onAct({ what: 'change', person })}>{words.change}</Button>
                    {person.active && <Button onClick={() => onAct({ what: 'code', person })}>{words.code}</Button>}
                    {person.active && (
                      <Button onClick={() => onAct({ what: 'sign-out', person })}>{words.signOut}</Button>
                    )}
                  </div>
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function AddPerson() {
  const client = useQueryClient();
  const [key, setKey] = useState(newKey);
  const [name, setName] = useState('');
  const [role, setRole] = useState<Role>('technician');
  const [mayIssue, setMayIssue] = useState(false);
  const { refusal, busy, submit, problemAt } = useSubmission();
  const add = async (event: SubmitEvent) => {
    event.preventDefault();
    await submit(async () => {
      await post('/api/people', { name, role, mayIssue }, key);
      setKey(newKey());
      setName('');
      setMayIssue(false);
      await client.invalidateQueries({ queryKey: ['people'] });
    });
  };
  return (
    <Section title={words.add}>
      <form className="stack measure" onSubmit={add} noValidate>
        <ErrorSummary refusal={refusal} />
        <Field name="name" label={words.name} value={name} onChange={setName} problem={problemAt('name')} />
        <Choice name="role" label={words.role} value={role} options={ROLE_OPTIONS} onChange={setRole} layout="list" />
        <Tick name="mayIssue" label={words.mayIssue} checked={mayIssue} onChange={setMayIssue} />
        <div className="row">
          <Button type="submit" look="primary" disabled={busy}>
            {words.add}
          </Button>
        </div>
      </form>
    </Section>
  );
}

const draftOf = ({ role, mayIssue, active }: PersonOnWire) => ({ role, mayIssue, active });
type Draft = ReturnType<typeof draftOf>;

const yesOrNo = (value: boolean): string => (value ? text.words.yes : text.words.no);
const FIELDS = [
  [words.role, ({ role }: Draft) => peopleText.roles[role]],
  [words.mayIssue, ({ mayIssue }: Draft) => yesOrNo(mayIssue)],
  [words.isActive, ({ active }: Draft) => yesOrNo(active)],
] as const;

function ChangePerson({ person, onClose }: { person: PersonOnWire; onClose: () => void }) {
  const path = `/api/people/${person.id}`;
  const edit = useEditBeside(path, person, draftOf);
  const { role, mayIssue, active } = edit.draft;
  const change = (changes: Partial<Draft>) => edit.setDraft({ ...edit.draft, ...changes });
  return (
    <ActDialog
      title={words.changeTitle(person.name)}
      what={words.changeWhat}
      path={path}
      act={words.change}
      body={() => ({ body: edit.draft })}
      send={edit.send}
      onClose={onClose}
    >
      {(submission) => (
        <div className="stack" ref={edit.box}>
          <Beside
            edit={edit}
            busy={submission.busy}
            rows={(present) =>
              versionsRows(FIELDS, { before: draftOf(edit.base), mine: edit.draft, present: draftOf(present) })
            }
          />
          <Choice
            name="newRole"
            label={words.role}
            value={role}
            options={ROLE_OPTIONS}
            onChange={(chosen) => change({ role: chosen })}
            layout="list"
          />
          <Tick
            name="newMayIssue"
            label={words.mayIssue}
            checked={mayIssue}
            onChange={(chosen) => change({ mayIssue: chosen })}
          />
          <Tick
            name="isActive"
            label={words.isActive}
            checked={active}
            onChange={(chosen) => change({ active: chosen })}
          />
        </div>
      )}
    </ActDialog>
  );
}

function CodeDialog({ person, onClose }: { person: PersonOnWire; onClose: () => void }) {
  const client = useQueryClient();
  const [made, setMade] = useState<OneTimeCode | null>(null);
  const { refusal, busy, submit } = useSubmission();
  const make = () =>
    submit(async () => {
      setMade(await send<OneTimeCode>('POST', `/api/people/${person.id}/code`));
      await client.invalidateQueries({ queryKey: ['people'] });
    });
  return (
    <Dialog title={words.codeTitle(person.name)} onClose={onClose}>
      <ErrorSummary refusal={refusal} />
      {made === null ? (
        <p>{words.codeWhat(person.name)}</p>
      ) : (
        <>
          <ShownOnce secret={made.code} />
          <p>
            {words.codeShown} {words.codeUntil(new Date(made.expiresAt).toLocaleString('en-GB'))}
          </p>
        </>
      )}
      <div className="row">
        {made === null && (
          <Button look="primary" disabled={busy} onClick={() => void make()}>
            {words.codeMake}
          </Button>
        )}
        <Button look="quiet" onClick={onClose}>
          {made === null ? text.form.cancel : text.form.close}
        </Button>
      </div>
    </Dialog>
  );
}
