import { type SubmitEvent, useState } from 'react';
import type { VesselListItem } from '../../../server/glassware/contract.ts';
import { labelsText as words } from '../../messages/en-labels.ts';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { vesselByTag } from '../../queries.ts';
import './labels.css';

interface AddByTagProps {
  onFound: (id: string, vessel: VesselListItem) => void;
  /** Where it is not to a list that the vessel is added. */
  label?: string;
  act?: string;
}

/** A tag typed, or sent by a scanner with its Enter; the field is empty for the next one. */
export function AddByTag({ onFound, label = words.tag, act = words.add }: AddByTagProps) {
  const [tag, setTag] = useState('');
  const { refusal, setRefusal, busy, submit, problemAt } = useSubmission();
  const add = async (event: SubmitEvent) => {
    event.preventDefault();
    const typed = tag.trim();
    if (typed === '') return setRefusal(refusedHere({ tag: words.tagMissing }));
    const looked: { unknown?: true } = {};
    await submit(async () => {
      const found = await vesselByTag(typed);
      if (found === null) {
        looked.unknown = true;
        return;
      }
      onFound(found.id, found);
      setTag('');
    });
    if (looked.unknown) setRefusal(refusedHere({ tag: words.tagUnknown(typed) }));
  };
  return (
    <form className="row label-add" onSubmit={add} noValidate>
      <Field
        {...{ name: 'tag', label, help: words.tagHelp, value: tag, onChange: setTag }}
        {...{ autoCapitalize: 'none', autoCorrect: 'off', spellCheck: false, autoComplete: 'off' }}
        problem={problemAt('tag') ?? (refusal && refusal.fields.length === 0 ? refusal.detail : undefined)}
      />
      <Button type="submit" disabled={busy}>
        {act}
      </Button>
    </form>
  );
}
