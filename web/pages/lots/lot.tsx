import { useMemo } from 'react';
import { Link } from 'wouter';
import type { LotVessel, LotWithVessels } from '../../../server/lots/contract.ts';
import type { VesselKind } from '../../../server/metrology/record.ts';
import { labelsText } from '../../messages/en-labels.ts';
import { text } from '../../messages/en.ts';
import { recordingSheetText } from '../../messages/en-recording-sheets.ts';
import { lotText, roundText } from '../../messages/en-lots.ts';
import { decisionText } from '../../messages/en-today.ts';
import { correctLotText } from '../../messages/en-lot-decisions.ts';
import { LinkButton } from '../../parts/button.tsx';
import { ForBench } from '../../parts/for-bench.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { moment } from '../../parts/time.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import { VerdictMark } from '../../parts/verdict.tsx';
import { leadingPoint, stripOf } from '../../summaries.ts';
import { LotDeciding } from './lot-deciding.tsx';
import { LotResults } from './lot-results.tsx';
import { ProgressBar } from './progress.tsx';
import { useLot } from './queries.ts';
import './lots.css';

const words = lotText;

/** One delivery: how far it is, what is left, and every vessel with its strip. */
export function LotPage({ id }: { id: string }) {
  const lot = useLot(id);
  return (
    <Loaded query={lot} what={words.oneWhat}>
      {(loaded) => <Lot lot={loaded} />}
    </Loaded>
  );
}

function Lot({ lot }: { lot: LotWithVessels }) {
  const kind = lot.ware.kind as VesselKind;
  const openRound = lot.rounds.findLast((round) => round.open > 0);
  return (
    <>
      <PageHeader
        title={lot.name}
        within={{ href: '~/lots', label: words.title }}
        lead={[
          words.what(lot.ware.nominalVolumeMl, text.words.vesselKinds[kind]),
          words.vessels(lot.ware.count),
          words.arrived(lot.receivedOn),
          ...(lot.supplier ? [words.supplier(lot.supplier)] : []),
          ...(lot.maker ? [lot.maker] : []),
        ].join(' · ')}
        actions={
          <ForBench>
            {openRound && (
              <LinkButton href={`/${lot.id}/bench?round=${openRound.number}`} look="primary" bench>
                {words.goOn(openRound.number)}
              </LinkButton>
            )}
            {!openRound && (
              <LinkButton href={`/${lot.id}/round`} look="primary" bench>
                {words.startRound}
              </LinkButton>
            )}
            <LinkButton href={`~/glassware/labels?lot=${lot.id}`} bench>
              {labelsText.title}
            </LinkButton>
            <LinkButton href={`~/glassware/sheets?lot=${lot.id}`} bench>
              {recordingSheetText.title}
            </LinkButton>
            {!openRound && (
              <LinkButton href={`/${lot.id}/round?from=sheet`} bench>
                {recordingSheetText.type}
              </LinkButton>
            )}
          </ForBench>
        }
      />
      <div className="stack tight lot-standing">
        <ProgressBar progress={lot.progress} />
        <p>{words.progress(lot.progress)}</p>
        {lot.note && <p className="measure">{lot.note}</p>}
        <ForBench>
          <p>
            <Link className="lone-link" href={`/${lot.id}/edit`}>
              {correctLotText.open}
            </Link>
          </p>
        </ForBench>
      </div>
      {lot.rounds.length > 0 && <Rounds lot={lot} />}
      {lot.rounds.length > 0 && <LotDeciding lot={lot} />}
      {lot.progress.measured > 0 && <LotResults lot={lot} />}
      <Section title={words.vesselsTitle}>
        <VesselTable vessels={lot.vessels} />
      </Section>
    </>
  );
}

function Rounds({ lot }: { lot: LotWithVessels }) {
  return (
    <Section title={words.rounds}>
      <ul className="plain stack tight">
        {lot.rounds.map((round) => (
          <li key={round.number}>
            <Link className="lone-link" href={`/${lot.id}/bench?round=${round.number}`}>
              {words.round(round.number)}
            </Link>{' '}
            <span className="quiet small">
              {[
                words.roundLine(round.vessels, round.open),
                roundText.ways[round.wayOfWorking],
                moment(round.recordedAt),
              ].join(' · ')}
            </span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function VesselTable({ vessels }: { vessels: readonly LotVessel[] }) {
  return (
    <div className="table-box" role="region" aria-label={words.vesselsTitle} tabIndex={0}>
      <table className="table lot-vessels">
        <caption className="unseen">{words.vesselsCaption}</caption>
        <thead>
          <tr>
            <th scope="col">{words.columns.vessel}</th>
            <th scope="col">{words.columns.standing}</th>
            <th scope="col" className="lot-strip">
              {words.columns.result}
            </th>
            <th scope="col">{words.columns.verdict}</th>
          </tr>
        </thead>
        <tbody>
          {vessels.map((vessel) => (
            <VesselRow key={vessel.id} vessel={vessel} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function VesselRow({ vessel }: { vessel: LotVessel }) {
  const point = vessel.latest ? leadingPoint(vessel.latest) : undefined;
  const data = useMemo(() => (point && point.n > 0 ? stripOf(point) : null), [point]);
  return (
    <tr>
      <th scope="row">
        <Link className="lone-link" href={`~/glassware/${vessel.id}`}>
          {vessel.tag}
        </Link>
        {vessel.serial && <span className="lot-serial quiet small">{words.serial(vessel.serial)}</span>}
      </th>
      <td>{words.standings[vessel.standing]}</td>
      <td className="lot-strip">
        {point && data && (
          <ToleranceStrip data={data} height={28} verdict={point.verdict} coverageFactor={point.coverageFactor} />
        )}
      </td>
      <td>
        {vessel.latest && point && point.n > 0 && <VerdictMark verdict={vessel.latest.verdict} />}
        {vessel.decision && <span className="lot-decided quiet small">{decisionText.done[vessel.decision]}</span>}
      </td>
    </tr>
  );
}
