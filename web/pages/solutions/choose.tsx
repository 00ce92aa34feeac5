import { useQuery } from '@tanstack/react-query';
import { useDeferredValue } from 'react';
import { useSearchParams } from 'wouter';
import type { ChoiceReply } from '../../../server/solutions/contract-choice.ts';
import { get, ProblemError, withQuery } from '../../api.ts';
import { chooseText as words } from '../../messages/en-choose.ts';
import { shelfText } from '../../messages/en-solutions.ts';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import { LoadFailed, Loading } from '../../parts/loading.tsx';
import { Caution } from '../../parts/notice.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { significant } from '../../parts/rounding.ts';
import { ChosenKinds } from './choose-kinds.tsx';
import { ChosenVessels } from './choose-vessels.tsx';
import './choose.css';

const JOBS = ['make-up', 'portion', 'any-portion', 'titrate', 'hold'] as const;
type Job = (typeof JOBS)[number];
const isJob = (text: string | null): text is Job => JOBS.some((job) => job === text);

/** Empty is nothing typed yet, and no problem. */
const typedNumber = (typed: string, unit: string): { value?: string; problem?: string } => {
  if (typed.trim() === '') return {};
  const read = readNumber(typed, unit);
  return read.ok ? { value: read.value } : { problem: read.problem };
};

/** What is asked stands in the address, so that the way back and a copied link find the same answer. */
function useAsked() {
  const [address, setAddress] = useSearchParams();
  const job = address.get('job');
  const asked = {
    job: isJob(job) ? job : 'portion',
    volumeMl: address.get('volumeMl') ?? '',
    accuracyPercent: address.get('accuracyPercent') ?? '',
    standardised: address.get('standardised') ?? '',
  };
  const ask = (name: keyof typeof asked, value: string): void =>
    setAddress(
      (before) => {
        if (value === '') before.delete(name);
        else before.set(name, value);
        return before;
      },
      { replace: true },
    );
  return { asked, ask };
}

type Asking = ReturnType<typeof useAsked>;

/** Holding needs no accuracy, and what is standardised needs none either. */
const needsAccuracy = ({ job, standardised }: Asking['asked']): boolean => job !== 'hold' && standardised !== 'true';

/** Which vessel to take for a volume. */
export default function ChoosePage() {
  const { asked, ask } = useAsked();
  const volume = typedNumber(asked.volumeMl, 'mL');
  const accuracy = typedNumber(asked.accuracyPercent, '%');
  const sent = useDeferredValue(
    withQuery('/api/solutions/choice', {
      job: asked.job,
      volumeMl: volume.value,
      accuracyPercent: needsAccuracy(asked) ? accuracy.value : undefined,
      standardised: asked.standardised,
    }),
  );
  const choice = useQuery({
    queryKey: ['choice', sent],
    queryFn: ({ signal }) => get<ChoiceReply>(sent, signal),
    enabled: volume.value !== undefined,
    placeholderData: (before) => before,
  });
  const typed: Partial<Record<string, string | undefined>> = {
    volumeMl: volume.problem,
    accuracyPercent: accuracy.problem,
  };
  const problemAt = (field: string): string | undefined =>
    choice.error instanceof ProblemError
      ? choice.error.fields.find(({ pointer }) => pointer === `#/${field}`)?.detail
      : undefined;
  const isAtField = problemAt('volumeMl') ?? problemAt('accuracyPercent');
  return (
    <>
      <PageHeader title={words.title} lead={words.lead} within={{ href: '/', label: shelfText.title }} />
      <AskFields asked={asked} ask={ask} problemAt={(name) => typed[name] ?? problemAt(name)} />
      {volume.value === undefined && <p className="quiet">{words.enterVolume}</p>}
      {choice.isFetching && choice.data === undefined && <Loading what={words.what} />}
      {choice.isError && isAtField === undefined && (
        <LoadFailed error={choice.error} onRetry={() => void choice.refetch()} />
      )}
      {choice.data && volume.value !== undefined && isAtField === undefined && (
        <Answer choice={choice.data} volumeMl={volume.value} standardised={asked.standardised === 'true'} />
      )}
    </>
  );
}

interface AskProps extends Asking {
  problemAt: (field: string) => string | undefined;
}

function AskFields({ asked, ask, problemAt }: AskProps) {
  return (
    <div className="choose-form">
      <Choice
        name="job"
        label={words.job}
        layout="list"
        value={asked.job}
        options={JOBS.map((value) => ({ value, ...words.jobs[value] }))}
        onChange={(value) => ask('job', value)}
      />
      <div className="stack">
        <div className="field-pair">
          <Field
            name="volumeMl"
            label={words.volume}
            unit="mL"
            number
            value={asked.volumeMl}
            problem={problemAt('volumeMl')}
            onChange={(value) => ask('volumeMl', value)}
          />
          {needsAccuracy(asked) && (
            <Field
              name="accuracyPercent"
              label={words.accuracy}
              help={words.accuracyHelp}
              unit="%"
              number
              optional
              value={asked.accuracyPercent}
              problem={problemAt('accuracyPercent')}
              onChange={(value) => ask('accuracyPercent', value)}
            />
          )}
        </div>
        {asked.job !== 'hold' && (
          <Tick
            name="standardised"
            label={words.standardised}
            help={words.standardisedHelp}
            checked={asked.standardised === 'true'}
            onChange={(yes) => ask('standardised', yes ? 'true' : '')}
          />
        )}
        <Caution>{words.caution}</Caution>
      </div>
    </div>
  );
}

function Answer({ choice, volumeMl, standardised }: { choice: ChoiceReply; volumeMl: string; standardised: boolean }) {
  return (
    <>
      <Section title={words.answer}>
        {standardised && <p className="measure">{words.standardisedSays}</p>}
        <ChosenKinds kinds={choice.kinds} />
      </Section>
      <Section
        title={words.stockroom}
        aside={
          choice.wantedMl !== null && (
            <span className="quiet">{words.stockroomLead(significant(choice.wantedMl, 2))}</span>
          )
        }
      >
        <ChosenVessels choice={choice} volumeMl={Number(volumeMl)} />
      </Section>
    </>
  );
}
