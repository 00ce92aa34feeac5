import type { Instrument } from '../../../server/instruments/contract.ts';
import { planText as words } from '../../messages/en-teaching.ts';
import { Button } from '../../parts/button.tsx';
import { Field, Select } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { useInstruments } from '../../queries.ts';
import type { BalanceDraft, PlanDraft } from './plan-draft.ts';

interface BalanceFieldsProps {
  balances: readonly BalanceDraft[];
  submission: Submission;
  onChange: (changes: Partial<PlanDraft>) => void;
}

/** The balances of the room: from the register, or with their last digit typed. */
export function BalanceFields({ balances, submission, onChange }: BalanceFieldsProps) {
  const registered = useRegistered();
  const change = (index: number, changes: Partial<BalanceDraft>) =>
    onChange({ balances: balances.map((one, at) => (at === index ? { ...one, ...changes } : one)) });
  return (
    <fieldset className="stack tight">
      <legend className="field-label">{words.balances}</legend>
      {balances.map((balance, index) => (
        <div key={index} className="class-balance">
          <BalanceField
            {...{ balance, index, submission, registered }}
            onChange={(changes) => change(index, changes)}
          />
          {balances.length > 1 && (
            <Button
              look="quiet"
              aria-label={`${words.removeBalance} ${balance.label}`}
              onClick={() => onChange({ balances: balances.filter((_, at) => at !== index) })}
            >
              {words.removeBalance}
            </Button>
          )}
        </div>
      ))}
      {balances.length > 1 && balances.some(({ instrumentId }) => instrumentId !== undefined) && (
        <p className="field-help">{words.balancesSeveral}</p>
      )}
      <div className="row">
        <Button onClick={() => onChange({ balances: [...balances, nextBalance(balances)] })}>{words.addBalance}</Button>
      </div>
    </fieldset>
  );
}

/** Balances of the register that are in use. */
const useRegistered = (): Instrument[] =>
  useInstruments().data?.items.filter(({ kind, inUse }) => kind === 'balance' && inUse) ?? [];

interface BalanceFieldProps {
  balance: BalanceDraft;
  index: number;
  submission: Submission;
  registered: readonly Instrument[];
  onChange: (changes: Partial<BalanceDraft>) => void;
}

function BalanceField({ balance, index, submission, registered, onChange }: BalanceFieldProps) {
  const at = `balances/${index}`;
  const { label, resolutionG, instrumentId } = balance;
  const choose = (id: string) => {
    const found = registered.find((one) => one.id === id);
    if (found) onChange({ instrumentId: id, label: found.tag, resolutionG: resolutionOf(found) });
    else onChange({ instrumentId: undefined });
  };
  const known = registered.find(({ id }) => id === instrumentId);
  const options = registered.map((one) => ({ value: one.id, label: registeredName(one) }));
  // While the register is on its way, or the balance went out of use, what was chosen stays in sight.
  if (instrumentId !== undefined && !known) options.push({ value: instrumentId, label });
  return (
    <>
      {options.length > 0 && (
        <Select
          name={`${at}/instrumentId`}
          label={words.registered}
          none={words.notRegistered}
          {...{ value: instrumentId ?? '', options, onChange: choose }}
          problem={submission.problemAt(`${at}/instrumentId`)}
        />
      )}
      <Field
        name={`${at}/label`}
        label={words.balance(index + 1)}
        value={label}
        problem={submission.problemAt(`${at}/label`)}
        onChange={(typed) => onChange({ label: typed })}
      />
      {known && resolutionOf(known) !== '' ? (
        <p className="field-help">{words.balanceOfRegister(resolutionOf(known), hasCorrections(known))}</p>
      ) : (
        <Field
          name={`${at}/resolutionG`}
          label={words.balanceDigit}
          unit="g"
          number
          optional
          value={resolutionG}
          problem={submission.problemAt(`${at}/resolutionG`)}
          onChange={(typed) => onChange({ resolutionG: typed })}
        />
      )}
    </>
  );
}

const resolutionOf = ({ resolutionG }: Instrument): string => resolutionG ?? '';
const hasCorrections = (instrument: Instrument): boolean => (instrument.corrections ?? []).length > 0;
const registeredName = (instrument: Instrument): string =>
  resolutionOf(instrument) === '' ? instrument.tag : `${instrument.tag} (${resolutionOf(instrument)} g)`;

const nextBalance = (balances: readonly BalanceDraft[]): BalanceDraft => ({
  label: words.balance(balances.length + 1),
  resolutionG: balances.at(-1)?.resolutionG ?? '',
});
