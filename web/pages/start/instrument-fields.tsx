import type { Instrument } from '../../../server/instruments/contract.ts';
import { startText } from '../../messages/en-start.ts';
import { Select } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { type Role, ROLES } from './draft.ts';

const words = startText;

interface InstrumentFieldsProps {
  chosen: Record<Role, string>;
  instruments: readonly Instrument[];
  onChange: (role: Role, id: string) => void;
  submission: Submission;
}

/** One list for each role, from the register; an overdue certificate is named in the list. */
export function InstrumentFields({ chosen, instruments, onChange, submission }: InstrumentFieldsProps) {
  const inUse = instruments.filter((instrument) => instrument.inUse);
  if (inUse.length === 0) return <p className="quiet">{words.noInstruments}</p>;
  const roles = ROLES.filter(({ kind }) => inUse.some((instrument) => instrument.kind === kind));
  return (
    <div className="field-pair">
      {roles.map(({ role, kind }) => (
        <Select
          key={role}
          name={`instruments/${role}`}
          label={words.roles[role]}
          value={chosen[role]}
          none={words.notNamed}
          options={inUse.filter((instrument) => instrument.kind === kind).map(optionOf)}
          problem={submission.problemAt(`instruments/${role}`)}
          onChange={(id) => onChange(role, id)}
        />
      ))}
    </div>
  );
}

const optionOf = (instrument: Instrument) => {
  const what = [instrument.maker, instrument.model].filter(Boolean).join(' ');
  const label = words.instrumentLabel(instrument.tag, what);
  return {
    value: instrument.id,
    label: instrument.overdue && instrument.dueOn ? words.overdue(label, instrument.dueOn) : label,
  };
};
