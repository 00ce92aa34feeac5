import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { assumedPressureHpa, usualPressureHpa } from '../../../server/metrology/air.ts';
import type { Laboratory } from '../../../server/laboratory/contract.ts';
import { patch, ProblemError } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { settingsText } from '../../messages/en-settings.ts';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { Section } from '../../parts/page.tsx';
import { Figure } from '../../parts/quantity.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { fixed } from '../../parts/rounding.ts';
import { keys } from '../../queries.ts';

const words = settingsText.laboratory;

interface Draft {
  name: string;
  address: string;
  altitudeM: string;
}

const draftOf = ({ name, address, altitudeM }: Laboratory): Draft => ({
  name: name ?? '',
  address: address ?? '',
  altitudeM: altitudeM ?? '',
});

const LOWEST_M = -430;
const HIGHEST_M = 5000;

/** The height as decimal text, null where none is given, or what is wrong with it. */
function readAltitude(typed: string): { altitudeM: string | null; problem?: string } {
  if (typed.trim() === '') return { altitudeM: null };
  const read = readNumber(typed, 'm');
  if (!read.ok) return { altitudeM: null, problem: read.problem };
  const isInside = Number(read.value) >= LOWEST_M && Number(read.value) <= HIGHEST_M;
  return isInside ? { altitudeM: read.value } : { altitudeM: null, problem: settingsText.place.range };
}

const isSame = (one: Draft, other: Draft): boolean =>
  one.name.trim() === other.name.trim() &&
  one.address.trim() === other.address.trim() &&
  readAltitude(one.altitudeM).altitudeM === readAltitude(other.altitudeM).altitudeM;

/** What the form holds and how it is sent; another’s change meanwhile becomes a decision. */
function useLaboratoryForm(laboratory: Laboratory) {
  const [base, setBase] = useState(laboratory);
  const [draft, setDraft] = useState(() => draftOf(laboratory));
  const [present, setPresent] = useState<Laboratory | null>(null);
  const [said, setSaid] = useState('');
  const submission = useSubmission();
  const client = useQueryClient();
  const altitude = readAltitude(draft.altitudeM);
  const change = (changes: Partial<Draft>) => {
    setSaid('');
    setDraft((before) => ({ ...before, ...changes }));
  };
  const take = (found: Laboratory) => {
    setBase(found);
    setDraft(draftOf(found));
    setPresent(null);
  };
  const send = async (onto: Laboratory) => {
    setPresent(null);
    setBase(onto);
    const refused = refusedHere({ altitudeM: altitude.problem });
    if (refused) return submission.setRefusal(refused);
    if (isSame(draft, draftOf(onto))) {
      submission.setRefusal(null);
      return setSaid(words.unchanged);
    }
    await submission.submit(async () => {
      const { name, address } = draft;
      const body = { name: name.trim() || null, address: address.trim() || null, altitudeM: altitude.altitudeM };
      try {
        const saved = await patch<Laboratory>('/api/laboratory', body, onto.version);
        client.setQueryData(keys.laboratory, saved);
        take(saved);
        setSaid(words.saved);
      } catch (error) {
        if (!(error instanceof ProblemError) || error.code !== 'stale-edit') throw error;
        setPresent(error.body.current as Laboratory);
      }
    });
  };
  return { draft, change, altitude, said, submission, present, take, save: () => send(base), saveOnto: send };
}

export function LaboratoryForm({ laboratory }: { laboratory: Laboratory }) {
  const { draft, change, altitude, said, submission, present, take, save, saveOnto } = useLaboratoryForm(laboratory);
  if (present)
    return (
      <SettingsConflict
        mine={draft}
        present={draftOf(present)}
        onKeepMine={() => void saveOnto(present)}
        onTakePresent={() => take(present)}
      />
    );
  const field = (name: 'name' | 'address') => ({
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
        void save();
      }}
    >
      <ErrorSummary refusal={submission.refusal} />
      <Section title={words.title}>
        <Field {...field('name')} label={words.name} help={words.nameHelp} autoComplete="organization" />
        <Field {...field('address')} label={words.address} help={words.addressHelp} autoComplete="street-address" />
      </Section>
      <Place
        typed={draft.altitudeM}
        problem={submission.problemAt('altitudeM') ?? altitude.problem}
        altitudeM={altitude.altitudeM}
        onChange={(altitudeM) => change({ altitudeM })}
      />
      <div className="row settings-end">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {submission.busy ? text.form.saving : words.save}
        </Button>
        <span role="status">{said}</span>
      </div>
    </form>
  );
}

interface PlaceProps {
  typed: string;
  problem: string | undefined;
  altitudeM: string | null;
  onChange: (typed: string) => void;
}

/** The height, and what pressure it makes Tarebook expect; the figure moves while one types. */
function Place({ typed, problem, altitudeM, onChange }: PlaceProps) {
  const place = settingsText.place;
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
        problem={problem}
        onChange={onChange}
      />
      <dl className="figures" role="status">
        <Figure
          label={height === null ? place.seaLevel : place.usual}
          value={fixed(assumedPressureHpa(height), height === null ? 2 : 1)}
          unit="hPa"
          sub={place.usualRange(fixed(low, 0), fixed(high, 0))}
        />
      </dl>
      <p className="quiet measure">{place.meaning}</p>
    </Section>
  );
}

interface ConflictProps {
  mine: Draft;
  present: Draft;
  onKeepMine: () => void;
  onTakePresent: () => void;
}

function SettingsConflict({ mine, present, onKeepMine, onTakePresent }: ConflictProps) {
  const conflict = settingsText.conflict;
  const names: Record<keyof Draft, string> = {
    name: words.name,
    address: words.address,
    altitudeM: settingsText.place.altitude,
  };
  const rows = (['name', 'address', 'altitudeM'] as const).filter((field) => mine[field] !== present[field]);
  return (
    <section className="stack settings-conflict" role="alert">
      <h2>{conflict.title}</h2>
      <p>{rows.length === 0 ? conflict.alike : conflict.what}</p>
      <div className="table-box" tabIndex={0} role="region" aria-label={conflict.title}>
        <table className="table">
          <thead>
            <tr>
              <th scope="col">{conflict.field}</th>
              <th scope="col">{conflict.mine}</th>
              <th scope="col">{conflict.present}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((field) => (
              <tr key={field}>
                <th scope="row">{names[field]}</th>
                <td>{mine[field] || conflict.nothing}</td>
                <td>{present[field] || conflict.nothing}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div className="row">
        <Button look="primary" onClick={onKeepMine}>
          {conflict.keepMine}
        </Button>
        <Button onClick={onTakePresent}>{conflict.takePresent}</Button>
      </div>
    </section>
  );
}
