import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { assumedPressureHpa, usualPressureHpa } from '../../../server/metrology/air.ts';
import type { Laboratory } from '../../../server/laboratory/contract.ts';
import { patch, ProblemError } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { settingsText } from '../../messages/en-settings.ts';
import { Button } from '../../parts/button.tsx';
import { Field, TextArea, Tick } from '../../parts/field.tsx';
import { Section } from '../../parts/page.tsx';
import { Figure } from '../../parts/quantity.tsx';
import { ErrorSummary, refusedHere, type Submission, useSubmission } from '../../parts/refusal.tsx';
import { fixed } from '../../parts/rounding.ts';
import { Versions } from '../../parts/versions.tsx';
import { keys } from '../../queries.ts';
import { useMay } from '../../session.ts';
import { DefaultsFields } from './defaults.tsx';
import { draftOf, isSame, merge, readAltitude, readDraft, versionsOf, type SettingsDraft } from './draft.ts';

const words = settingsText.laboratory;
/** As many as the server keeps. */
const MOST_HOST_NAMES = 20;

/** What the form holds and how it is sent; another’s change meanwhile becomes a decision. */
function useLaboratoryForm(laboratory: Laboratory) {
  const [base, setBase] = useState(laboratory);
  const [draft, setDraft] = useState(() => draftOf(laboratory));
  const [present, setPresent] = useState<Laboratory | null>(null);
  const [said, setSaid] = useState('');
  const submission = useSubmission();
  const client = useQueryClient();
  const change = (changes: Partial<SettingsDraft>) => {
    setSaid('');
    setDraft((before) => ({ ...before, ...changes }));
  };
  const take = (found: Laboratory) => {
    setBase(found);
    setDraft(draftOf(found));
    setPresent(null);
  };
  const send = async (onto: Laboratory, wanted: SettingsDraft) => {
    const { body, problems } = readDraft(wanted);
    const refused = refusedHere(problems);
    if (refused) return submission.setRefusal(refused);
    if (isSame(wanted, draftOf(onto))) {
      submission.setRefusal(null);
      return setSaid(words.unchanged);
    }
    await submission.submit(async () => {
      const store = async ({ version }: Laboratory) => {
        const saved = await patch<Laboratory>('/api/laboratory', body, version);
        client.setQueryData(keys.laboratory, saved);
        take(saved);
        setSaid(words.saved);
      };
      try {
        await store(onto);
      } catch (error) {
        if (!(error instanceof ProblemError) || error.code !== 'stale-edit') throw error;
        const found = error.body.current as Laboratory;
        // Only what this form does not show was changed meanwhile.
        if (!isSame(draftOf(found), draftOf(onto))) return setPresent(found);
        await store(found);
      }
    });
  };
  const mergeOnto = (found: Laboratory) => {
    const merged = merge(draftOf(base), draft, draftOf(found));
    setBase(found);
    setDraft(merged);
    setPresent(null);
    void send(found, merged);
  };
  return { base, draft, change, said, submission, present, take, mergeOnto, save: () => send(base, draft) };
}

export function LaboratoryForm({ laboratory }: { laboratory: Laboratory }) {
  const form = useLaboratoryForm(laboratory);
  const { draft, change, submission, present } = form;
  const mayKeep = useMay()('keep');
  if (present)
    return (
      <section className="stack settings-conflict">
        <h2>{settingsText.conflictTitle}</h2>
        <Versions
          rows={versionsOf(draftOf(form.base), draft, draftOf(present))}
          busy={submission.busy}
          onMerge={() => form.mergeOnto(present)}
          onTakePresent={() => form.take(present)}
        />
      </section>
    );
  const field = (name: 'name' | 'address' | 'countryCode') => ({
    name,
    optional: true,
    value: draft[name],
    problem: submission.problemAt(name),
    onChange: (value: string) => change({ [name]: value }),
  });
  return (
    <form
      className="settings-form"
      noValidate
      onSubmit={(event: SubmitEvent) => {
        event.preventDefault();
        void form.save();
      }}
    >
      <ErrorSummary refusal={submission.refusal} />
      {!mayKeep && <p className="quiet">{settingsText.keeperChanges}</p>}
      <fieldset className="settings-fields" disabled={!mayKeep}>
        <Section title={words.title}>
          <Field {...field('name')} label={words.name} help={words.nameHelp} autoComplete="organization" />
          <Field {...field('address')} label={words.address} help={words.addressHelp} autoComplete="street-address" />
          <Field
            {...field('countryCode')}
            width="short"
            label={words.country}
            help={countryName(draft.countryCode) ?? words.countryHelp}
            autoComplete="country"
          />
        </Section>
        <Place
          typed={draft.altitudeM}
          problem={submission.problemAt('altitudeM')}
          onChange={(altitudeM) => change({ altitudeM })}
        />
        <DefaultsFields draft={draft} onChange={change} problemAt={submission.problemAt} />
        <DoorFields draft={draft} change={change} submission={submission} />
      </fieldset>
      {mayKeep && (
        <div className="row settings-end">
          <Button type="submit" look="primary" bench disabled={submission.busy}>
            {submission.busy ? text.form.saving : words.save}
          </Button>
          <span role="status">{form.said}</span>
        </div>
      )}
    </form>
  );
}

const regions = new Intl.DisplayNames(['en'], { type: 'region', fallback: 'none' });

/** What a code of two letters stands for, so that a slip is seen before it is saved. */
const countryName = (typed: string): string | undefined =>
  /^\s*[A-Za-z]{2}\s*$/.test(typed) ? regions.of(typed.trim().toUpperCase()) : undefined;

interface DoorFieldsProps {
  draft: SettingsDraft;
  change: (changes: Partial<SettingsDraft>) => void;
  submission: Submission;
}

/** Who checks, and by which names browsers may ask for the server. */
function DoorFields({ draft, change, submission }: DoorFieldsProps) {
  const { checking, doors } = settingsText;
  // The refusal stands at the line of the name; the field is one for all of them.
  const names = Array.from({ length: MOST_HOST_NAMES }, (_, line) => submission.problemAt(`hostNames/${line}`));
  return (
    <>
      <Section title={checking.title}>
        <Tick
          name="secondPersonChecks"
          label={checking.secondPerson}
          help={checking.secondPersonHelp}
          checked={draft.secondPersonChecks}
          problem={submission.problemAt('secondPersonChecks')}
          onChange={(secondPersonChecks) => change({ secondPersonChecks })}
        />
      </Section>
      <Section title={doors.title}>
        <TextArea
          name="hostNames"
          label={doors.hostNames}
          help={doors.hostNamesHelp}
          optional
          value={draft.hostNames}
          problem={submission.problemAt('hostNames') ?? names.find((problem) => problem !== undefined)}
          onChange={(hostNames) => change({ hostNames })}
        />
      </Section>
    </>
  );
}

interface PlaceProps {
  typed: string;
  problem: string | undefined;
  onChange: (typed: string) => void;
}

/** The height, and what pressure it makes Tarebook expect; the figure moves while one types. */
function Place({ typed, problem, onChange }: PlaceProps) {
  const place = settingsText.place;
  const { altitudeM, problem: unclear } = readAltitude(typed);
  const height = altitudeM === null ? null : Number(altitudeM);
  const [low, high] = usualPressureHpa(height);
  return (
    <Section title={place.title}>
      <Field
        name="altitudeM"
        label={place.altitude}
        help={place.altitudeHelp}
        unit="m"
        optional
        number
        signed
        value={typed}
        problem={problem ?? unclear}
        onChange={onChange}
      />
      <div role="status">
        <dl className="figures">
          <Figure
            label={height === null ? place.seaLevel : place.usual}
            value={fixed(assumedPressureHpa(height), height === null ? 2 : 1)}
            unit="hPa"
            sub={place.usualRange(fixed(low, 0), fixed(high, 0))}
          />
        </dl>
      </div>
      <p className="quiet measure">{place.meaning}</p>
    </Section>
  );
}
