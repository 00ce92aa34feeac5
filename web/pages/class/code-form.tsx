import type { ReactNode, SubmitEvent } from 'react';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';

/** A field for what is copied letter by letter: codes and words. */
export function CopiedField(props: {
  name: string;
  label: string;
  help: string;
  value: string;
  onChange: (value: string) => void;
  problem: string | undefined;
}) {
  return (
    <Field {...props} autoCapitalize="none" autoCorrect="off" spellCheck={false} enterKeyHint="go" maxLength={40} />
  );
}

interface CodeFormProps {
  words: { code: string; codeHelp: string; codeMissing: string };
  code: string;
  onCode: (code: string) => void;
  act: string;
  acting: string;
  look?: 'primary' | 'plain';
  /** Comes in with the code; what is refused is shown at the field. */
  onSend: () => Promise<void>;
  children?: ReactNode;
}

/** One code and what it opens. */
export function CodeForm({ words, code, onCode, act, acting, look = 'primary', onSend, children }: CodeFormProps) {
  const { refusal, setRefusal, busy, submit, problemAt } = useSubmission();
  const send = async (event: SubmitEvent) => {
    event.preventDefault();
    if (code.trim() === '') return setRefusal(refusedHere({ code: words.codeMissing }));
    await submit(onSend);
  };
  return (
    <form className="stack class-codes class-narrow" onSubmit={send} noValidate>
      <ErrorSummary refusal={refusal} />
      <CopiedField
        {...{ name: 'code', label: words.code, help: words.codeHelp, value: code, onChange: onCode }}
        problem={problemAt('code')}
      />
      {children}
      <div className="row">
        <Button type="submit" look={look} bench disabled={busy}>
          {busy ? acting : act}
        </Button>
      </div>
    </form>
  );
}
