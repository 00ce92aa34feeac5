import { newLotText } from '../../messages/en-lots.ts';
import { Choice, Field, TextArea } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import type { LotDraft } from './lot-draft.ts';

const words = newLotText;

interface TagFieldsProps {
  draft: LotDraft;
  submission: Submission;
  change: (changes: Partial<LotDraft>) => void;
}

/** Where the tags come from: a pattern with numbers, or a list with the serial numbers beside. */
export function TagFields({ draft, submission, change }: TagFieldsProps) {
  const isNumbered = draft.tagging === 'numbered';
  return (
    <section className="stack">
      <h2>{words.tags}</h2>
      <Choice
        name="tagging"
        label={words.tagging}
        value={draft.tagging}
        options={[
          { value: 'numbered', label: words.numbered },
          { value: 'listed', label: words.listed },
        ]}
        onChange={(tagging) => change({ tagging })}
      />
      {isNumbered && <Numbering draft={draft} submission={submission} change={change} />}
      <TextArea
        name="list"
        label={isNumbered ? words.serials : words.list}
        help={isNumbered ? words.serialsHelp : words.listHelp}
        optional={isNumbered}
        rows={10}
        value={draft.list}
        problem={submission.problemAt('list')}
        onChange={(list) => change({ list })}
      />
      <label className="field lot-file">
        <span className="field-label">{words.file}</span>
        <input
          type="file"
          accept=".csv,.tsv,.txt,text/csv,text/plain"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file) void file.text().then((list) => change({ list }));
          }}
        />
      </label>
    </section>
  );
}

function Numbering({ draft, submission, change }: TagFieldsProps) {
  return (
    <div className="field-pair">
      <Field
        name="numbering/pattern"
        label={words.pattern}
        help={words.patternHelp}
        value={draft.pattern}
        problem={submission.problemAt('numbering/pattern') ?? submission.problemAt('numbering')}
        onChange={(pattern) => change({ pattern })}
      />
      <Field
        name="numbering/first"
        label={words.first}
        inputMode="numeric"
        width="short"
        value={draft.first}
        problem={submission.problemAt('numbering/first')}
        onChange={(first) => change({ first })}
      />
      <Field
        name="numbering/count"
        label={words.count}
        inputMode="numeric"
        width="short"
        value={draft.count}
        problem={submission.problemAt('numbering/count')}
        onChange={(count) => change({ count })}
      />
    </div>
  );
}
