import { type SubmitEvent, useEffect, useState } from 'react';
import { send } from '../../api.ts';
import { eraseText, joinText as words } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Notice } from '../../parts/notice.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { CodeForm, CopiedField } from './code-form.tsx';
import { Leftover } from './erased.tsx';
import { Frame } from './frame.tsx';
import { type Kept, Memory, type Membership, presentGroup } from './memory.ts';
import type { Place } from './place.ts';
import { presentSession } from './standing.ts';

type Joined = Membership & { name: string; word: string };
type Returned = Membership & { name: string | null };

/** The code in the link of the square code; it stands behind the sign # or as `code`. */
const codeInAddress = ({ hash, search }: Location): string =>
  decodeURIComponent(hash.slice(1)) || (new URLSearchParams(search).get('code') ?? '');

/** Coming in with a code, or coming back with code and word. Nobody is asked for a name. */
export function JoinPage({ go }: { go: (to: Place) => void }) {
  const [code, setCode] = useState(() => codeInAddress(window.location));
  const [isBack, setIsBack] = useState(false);
  const [kept] = useState(presentGroup);
  const isHere = useIsHere(kept);
  useEffect(() => {
    // A code that stays in the address would go into the list of visited pages.
    if (window.location.hash || window.location.search) window.history.replaceState(null, '', '/join');
  }, []);
  const unsent = kept?.isErased ? 0 : (kept?.waiting.length ?? 0);
  return (
    <Frame title={words.title} lead={words.lead} screen={isBack ? 'back' : 'new'}>
      <div className="stack wide-gaps class-narrow">
        {isHere && kept && (
          <section className="card stack tight">
            <h2>{words.hereTitle(kept.name ?? '')}</h2>
            <div className="row">
              <Button look="primary" bench onClick={() => go('group')}>
                {words.goOn}
              </Button>
            </div>
          </section>
        )}
        {!isHere && kept && unsent > 0 && <Notice tone="strong">{words.left(kept.name ?? '', unsent)}</Notice>}
        {kept?.isErased && (
          <>
            <Notice>{eraseText.title}</Notice>
            <Leftover of={[kept]} />
          </>
        )}
        {isBack ? (
          <ReturnForm code={code} onCode={setCode} onDone={() => go('group')} />
        ) : (
          <JoinForm code={code} onCode={setCode} isSecond={isHere} onDone={() => go('group')} />
        )}
        <Button look="quiet" bench className="class-other" onClick={() => setIsBack(!isBack)}>
          {isBack ? words.asNew : words.back}
        </Button>
      </div>
    </Frame>
  );
}

/** Whether the server knows this phone as one of the group it remembers. */
function useIsHere(kept: Kept | null): boolean {
  const [isHere, setIsHere] = useState(false);
  useEffect(() => {
    if (kept === null) return;
    presentSession().then(
      ({ kind, groupId }) => setIsHere(kind === 'group' && groupId === kept.groupId),
      () => undefined,
    );
  }, [kept]);
  return isHere;
}

interface FormProps {
  code: string;
  onCode: (code: string) => void;
  onDone: () => void;
}

function JoinForm({ code, onCode, onDone, isSecond }: FormProps & { isSecond: boolean }) {
  const join = async () => {
    const { name, word, ...membership } = await send<Joined>('POST', '/api/class/join', { code });
    new Memory(membership).change(() => ({ name, word }));
    onDone();
  };
  return (
    <CodeForm
      {...{ words, code, onCode, acting: words.joining, onSend: join }}
      act={isSecond ? words.another : words.join}
      look={isSecond ? 'plain' : 'primary'}
    >
      <p className="small quiet">{words.names}</p>
    </CodeForm>
  );
}

function ReturnForm({ code, onCode, onDone }: FormProps) {
  const [word, setWord] = useState('');
  const { refusal, setRefusal, busy, submit, problemAt } = useSubmission();
  const comeBack = async (event: SubmitEvent) => {
    event.preventDefault();
    const missing = {
      ...(code.trim() === '' ? { code: words.codeMissing } : {}),
      ...(word.trim() === '' ? { word: words.wordMissing } : {}),
    };
    const refused = refusedHere(missing);
    if (refused) return setRefusal(refused);
    await submit(async () => {
      const { name, ...membership } = await send<Returned>('POST', '/api/class/return', { code, word });
      const spelt = word.toLowerCase().replaceAll(/[\s-]/gu, '');
      new Memory(membership).change(() => ({ name, word: spelt, isWordWritten: true }));
      onDone();
    });
  };
  return (
    <form className="stack class-codes" onSubmit={comeBack} noValidate>
      <ErrorSummary refusal={refusal} />
      <p className="quiet">{words.backLead}</p>
      <CopiedField
        {...{ name: 'code', label: words.code, help: words.codeHelp, value: code, onChange: onCode }}
        problem={problemAt('code')}
      />
      <CopiedField
        {...{ name: 'word', label: words.word, help: words.wordHelp, value: word, onChange: setWord }}
        problem={problemAt('word')}
      />
      <div className="row">
        <Button type="submit" look="primary" bench disabled={busy}>
          {words.comeBack}
        </Button>
      </div>
    </form>
  );
}
