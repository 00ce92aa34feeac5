import { Suspense } from 'react';
import type { InstrumentWithHistory } from '../../../server/instruments/contract.ts';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { later } from '../../parts/later.tsx';
import { LinkButton } from '../../parts/button.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { moment } from '../../parts/time.ts';
import { Checks } from './checks.tsx';
import { useInstrument } from './data.ts';
import { FIELDS, partsPerMillion, READING_UNITS, UNITS, type QuantityField } from './draft.ts';
import { Due } from './due.tsx';

const InstrumentTime = later(() => import('./over-time.tsx'));
const MadeWith = later(() => import('../solutions/made-with.tsx'));

const words = instrumentsText.page;

export function InstrumentPage({ id }: { id: string }) {
  const instrument = useInstrument(id);
  return (
    <Loaded query={instrument} what={instrumentsText.oneWhat}>
      {(loaded) => <Entry instrument={loaded} />}
    </Loaded>
  );
}

function Entry({ instrument }: { instrument: InstrumentWithHistory }) {
  const { display, behaviour } = FIELDS[instrument.kind];
  return (
    <>
      <PageHeader
        title={instrument.tag}
        within={{ href: '~/instruments', label: instrumentsText.title }}
        lead={
          <>
            {instrumentsText.kinds[instrument.kind].one}
            {' · '}
            <Due dueOn={instrument.dueOn} overdue={instrument.overdue} />
          </>
        }
        actions={
          <ForBench>
            <LinkButton href={`/${instrument.id}/change`} look="primary">
              {words.change}
            </LinkButton>
          </ForBench>
        }
      />
      <div className="instrument-parts">
        <Section title={words.identity}>
          <Identity instrument={instrument} />
        </Section>
        {display.length + behaviour.length > 0 && (
          <Section title={words.display}>
            <Facts rows={[...display, ...behaviour].map((field) => quantityRow(instrument, field))} />
          </Section>
        )}
        <Section title={words.certificate}>
          <Certificate instrument={instrument} />
        </Section>
      </div>
      <Section title={words.corrections}>
        <Corrections instrument={instrument} />
      </Section>
      <Checks instrument={instrument} />
      <Suspense fallback={null}>
        <InstrumentTime id={instrument.id} />
      </Suspense>
      <Suspense fallback={null}>
        <MadeWith of="instruments" id={instrument.id} />
      </Suspense>
      <Section title={words.history}>
        <History instrument={instrument} />
      </Section>
    </>
  );
}

interface FactRow {
  name: string;
  value: string | undefined;
  unit?: string;
  aside?: string;
}

const quantityRow = (instrument: InstrumentWithHistory, field: QuantityField): FactRow => ({
  name: instrumentsText.fields[field],
  value: instrument[field],
  unit: UNITS[field],
  ...(instrument[field] === undefined ? {} : asideOf(field, instrument[field])),
});

const asideOf = (field: QuantityField, value: string): { aside?: string } => {
  const shown = partsPerMillion(field, value);
  return shown === null ? {} : { aside: words.partsPerMillion(shown) };
};

function Facts({ rows }: { rows: readonly FactRow[] }) {
  return (
    <dl className="facts">
      {rows.map(({ name, value, unit, aside }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>
            {value === undefined ? (
              <span className="quiet">{words.notStated}</span>
            ) : (
              <>
                <Quantity value={value} {...(unit ? { unit } : {})} />
                {aside && <span className="quiet small"> {aside}</span>}
              </>
            )}
          </dd>
        </div>
      ))}
    </dl>
  );
}

function Identity({ instrument }: { instrument: InstrumentWithHistory }) {
  const { fields } = instrumentsText;
  const rows = (['maker', 'model', 'serial', 'location', 'note'] as const).flatMap((field) => {
    const value = instrument[field];
    return value === undefined ? [] : [{ name: fields[field], value }];
  });
  return (
    <dl className="facts">
      <div>
        <dt>{words.use}</dt>
        <dd>{instrument.inUse ? words.inUse : instrumentsText.outOfUse}</dd>
      </div>
      {rows.map(({ name, value }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function Certificate({ instrument }: { instrument: InstrumentWithHistory }) {
  const { fields } = instrumentsText;
  const degrees = instrument.degreesOfFreedom;
  const covers = instrument.certificateCovers?.map((one) => instrumentsText.covers[one]).join(', ');
  return (
    <Facts
      rows={[
        { name: fields.certificateNumber, value: instrument.certificateNumber },
        { name: fields.certificateOn, value: instrument.certificateOn },
        { name: fields.dueOn, value: instrument.dueOn },
        ...FIELDS[instrument.kind].certificate.map((field) => quantityRow(instrument, field)),
        ...(degrees === undefined ? [] : [{ name: fields.degreesOfFreedom, value: String(degrees) }]),
        ...(covers ? [{ name: fields.certificateCovers, value: covers }] : []),
      ]}
    />
  );
}

function Corrections({ instrument }: { instrument: InstrumentWithHistory }) {
  const rows = instrument.corrections ?? [];
  const unit = READING_UNITS[instrument.kind];
  if (rows.length === 0) return <p className="quiet measure">{words.noCorrections}</p>;
  return (
    <div className="table-box corrections-shown">
      <table className="table">
        <thead>
          <tr>
            <th scope="col" className="number">
              {instrumentsText.corrections.at}
            </th>
            <th scope="col" className="number">
              {instrumentsText.corrections.correction}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.at}>
              <th scope="row" className="number">
                <Quantity value={row.at} unit={unit} />
              </th>
              <td className="number">
                <Quantity value={row.correction} unit={unit} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Who changed what entry when and why. */
function History({ instrument }: { instrument: InstrumentWithHistory }) {
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={words.history}>
      <table className="table">
        <caption>{words.historyCaption}</caption>
        <thead>
          <tr>
            <th scope="col" className="number">
              {words.version}
            </th>
            <th scope="col">{words.when}</th>
            <th scope="col">{words.who}</th>
            <th scope="col">{words.reason}</th>
            <th scope="col">{instrumentsText.fields.certificateNumber}</th>
          </tr>
        </thead>
        <tbody>
          {[...instrument.revisions].reverse().map((revision) => (
            <tr key={revision.version}>
              <td className="number">{revision.version}</td>
              <td>{moment(revision.at)}</td>
              <td>{revision.by}</td>
              <td>{revision.reason ?? words.registered}</td>
              <td>{revision.certificateNumber ?? <span className="quiet">{words.notStated}</span>}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
