import { useId, useState } from 'react';
import { dilutionText as words } from '../../messages/en-solutions.ts';
import { Field } from '../../parts/field.tsx';
import { type Numbered, useOfferedPreparations } from './numbered.ts';
import { preparationWords } from './preparation-words.ts';

interface NumberFieldProps {
  name: string;
  typed: string;
  numbered: Numbered;
  problemAt: (field: string) => string | undefined;
  onChange: (typed: string) => void;
}

/** A solution of the shelf by its number, typed or scanned, with those on the shelf offered. */
export function NumberField({ name, typed, numbered, problemAt, onChange }: NumberFieldProps) {
  const listId = useId();
  const [isWanted, setWanted] = useState(false);
  const offered = useOfferedPreparations(typed, isWanted);
  const unknown = numbered === null ? words.numberUnknown(typed.trim()) : undefined;
  return (
    <div>
      <Field
        {...{ name, label: words.number, value: typed, list: listId, onChange }}
        {...{ autoCapitalize: 'characters', autoCorrect: 'off', spellCheck: false }}
        help={numbered ? preparationWords(numbered) : words.numberHelp}
        problem={problemAt(name) ?? unknown}
        onFocus={() => setWanted(true)}
      />
      <datalist id={listId}>
        {offered.map((one) => (
          <option key={one.id} value={one.number}>
            {preparationWords(one)}
          </option>
        ))}
      </datalist>
    </div>
  );
}
