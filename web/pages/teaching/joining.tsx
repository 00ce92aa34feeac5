import { useQueryClient } from '@tanstack/react-query';
import { Fragment } from 'react';
import type { Joining } from '../../../server/experiments/contract-class.ts';
import type { Experiment } from '../../../server/experiments/contract.ts';
import { send } from '../../api.ts';
import { runText as words } from '../../messages/en-teaching.ts';
import { Button } from '../../parts/button.tsx';
import { isOwnMachine } from '../../parts/own-machine.ts';
import { Notice } from '../../parts/notice.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Section } from '../../parts/page.tsx';
import { ErrorSummary, useSubmission } from '../../parts/refusal.tsx';
import { classKeys, useJoining } from './data.ts';

const FURTHER_MINUTES = 30;

/** Code, address and square code while groups come in, large enough for the last row of seats. */
export function JoiningSection({ experiment }: { experiment: Experiment }) {
  const { id } = experiment;
  const joining = useJoining(id, true);
  const client = useQueryClient();
  const { refusal, busy, submit } = useSubmission();
  const change = (act: 'open' | 'close' | 'rotate' | 'extend') =>
    submit(async () => {
      const body = act === 'extend' ? { act, minutes: FURTHER_MINUTES } : { act };
      client.setQueryData(classKeys.joining(id), await send<Joining>('POST', `/api/experiments/${id}/joining`, body));
      await client.invalidateQueries({ queryKey: classKeys.one(id) });
    });
  return (
    <Section title={words.joinTitle}>
      <ErrorSummary refusal={refusal} />
      <Loaded query={joining} what={words.what}>
        {(loaded) => (
          <>
            {loaded.open ? <Ways joining={loaded} /> : <p>{words.joiningClosed}</p>}
            <div className="row no-print">
              <Button disabled={busy} onClick={() => void change(loaded.open ? 'close' : 'open')}>
                {loaded.open ? words.closeJoining : words.openJoining}
              </Button>
              <Button disabled={busy} onClick={() => void change('extend')}>
                {words.extend}
              </Button>
              <Button look="quiet" disabled={busy} title={words.rotateWhat} onClick={() => void change('rotate')}>
                {words.rotate}
              </Button>
            </div>
            <details className="unfold">
              <summary>{words.otherCodes}</summary>
              <OtherCodes joining={loaded} />
            </details>
          </>
        )}
      </Loaded>
    </Section>
  );
}

/** Where phones go, without code and without the scheme nobody types. */
const shortAddress = ({ address }: Joining): string => (address.split('#')[0] ?? '').replace(/^https?:\/\//, '');

/** Codes that are told to one person, not shown to the room. */
function OtherCodes({ joining }: { joining: Joining }) {
  const place = shortAddress(joining).replace(/\/join$/, '');
  const ways = [
    { path: 'board', name: words.boardCode, code: joining.boardCode, help: words.boardCodeHelp },
    { path: 'assist', name: words.assistantCode, code: joining.assistantCode, help: words.assistantCodeHelp },
  ];
  return (
    <dl className="facts">
      {ways.map(({ path, name, code, help }) => (
        <Fragment key={path}>
          <dt>{name}</dt>
          <dd>
            <code>{code?.toUpperCase()}</code> <span className="quiet">{`${place}/${path}`}</span>
            <p className="quiet small measure">{help}</p>
          </dd>
        </Fragment>
      ))}
    </dl>
  );
}

function Ways({ joining }: { joining: Joining }) {
  const { code, svg } = joining;
  return (
    <div className="card class-ways">
      {svg !== null && (
        <img
          className="class-square"
          alt={words.squareCode}
          src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`}
        />
      )}
      <dl className="class-way">
        <dt>{words.address}</dt>
        <dd>{shortAddress(joining)}</dd>
        {isOwnMachine(joining.address) && (
          <dd className="class-way-hint measure">
            <Notice tone="strong">{words.ownMachine}</Notice>
          </dd>
        )}
        <dt>{words.code}</dt>
        <dd className="class-code">{code?.toUpperCase()}</dd>
      </dl>
      <p className="quiet measure">{words.joinLead}</p>
    </div>
  );
}
