import { useId, useState } from 'react';
import type { Basis, VesselKind } from '../../../server/metrology/record.ts';
import { solutionFormText as words } from '../../messages/en-solutions.ts';
import { Field } from '../../parts/field.tsx';
import { asksForMark, type Tagged, useOffered, type VesselDraft, vesselOf, vesselWords } from './tagged.ts';

interface VesselFieldProps {
  /** Place of the vessel in the body. */
  name: string;
  /** The id alone stands there, without a mark. */
  isIdOnly?: boolean;
  label: string;
  help?: string;
  draft: VesselDraft;
  tagged: Tagged;
  basis: Basis;
  /** Kind that is offered before anything is typed. */
  kind: VesselKind;
  problemAt: (field: string) => string | undefined;
  onChange: (draft: VesselDraft) => void;
}

/** A vessel of the register by its tag, typed or scanned, with those that fit offered; and its mark where it has more. */
export function VesselField(props: VesselFieldProps) {
  const { name, isIdOnly = false, label, help, draft, tagged, basis, kind, problemAt, onChange } = props;
  const listId = useId();
  const [isWanted, setWanted] = useState(false);
  const offered = useOffered(draft.tag, basis, kind, isWanted);
  const vessel = vesselOf(tagged, draft);
  const field = isIdOnly ? name : `${name}/vesselId`;
  const unknown = vessel === null ? words.vesselUnknown(draft.tag.trim()) : undefined;
  return (
    <div className="vessel-field">
      <Field
        {...{ name: field, label, value: draft.tag, list: listId }}
        {...{ autoCapitalize: 'none', autoCorrect: 'off', spellCheck: false }}
        help={vessel ? vesselWords(vessel) : help}
        problem={problemAt(field) ?? unknown}
        onFocus={() => setWanted(true)}
        onChange={(tag) => onChange({ ...draft, tag })}
      />
      <datalist id={listId}>
        {offered.map((one) => (
          <option key={one.id} value={one.tag}>
            {vesselWords(one)}
          </option>
        ))}
      </datalist>
      {!isIdOnly && vessel && asksForMark(vessel) && (
        <Field
          name={`${name}/pointMl`}
          label={words.mark}
          unit="mL"
          number
          value={draft.pointMl}
          problem={problemAt(`${name}/pointMl`)}
          onChange={(pointMl) => onChange({ ...draft, pointMl })}
        />
      )}
    </div>
  );
}
