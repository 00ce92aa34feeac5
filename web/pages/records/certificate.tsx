import { useQueryClient } from '@tanstack/react-query';
import { Fragment, useState } from 'react';
import { Link, useSearch } from 'wouter';
import type { Certificate } from '../../../server/certificates/contract.ts';
import { newKey, post } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { recordsText } from '../../messages/en-records.ts';
import { Button } from '../../parts/button.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { PointFigures } from '../../parts/point-figures.tsx';
import { moment } from '../../parts/time.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import { VerdictMark } from '../../parts/verdict.tsx';
import { useMay } from '../../session.ts';
import { guardedPart } from '../../summaries.ts';
import { WithdrawDialog } from '../bench/signing-dialogs.tsx';
import { useCertificate } from './data.ts';

const words = recordsText.certificate;

export function CertificatePage({ number }: { number: string }) {
  const certificate = useCertificate(number);
  return (
    <Loaded query={certificate} what={words.what}>
      {(loaded) => <Paper certificate={loaded} />}
    </Loaded>
  );
}

function Paper({ certificate }: { certificate: Certificate }) {
  const what = vesselText.what(certificate.nominalVolumeMl, text.words.vesselKinds[certificate.kind as 'beaker']);
  const [isWithdrawing, setWithdrawing] = useState(false);
  const may = useMay();
  // The point of a reading that somebody follows.
  const search = useSearch();
  const pdf = certificate.files.some((file) => file.format === 'pdf');
  return (
    <>
      <PageHeader
        title={words.title(certificate.number)}
        within={{ href: '/certificates', label: recordsText.certificates }}
        lead={[
          certificate.tag,
          what,
          certificate.performedOn,
          ...(certificate.origin === null ? [] : [text.words.origins[certificate.origin]]),
        ].join(' · ')}
        actions={
          pdf && (
            <>
              <a className="button button-primary" href={`/api/certificates/${certificate.number}/pdf`}>
                {words.pdf}
              </a>
              <a className="button" href={`/api/certificates/${certificate.number}/xml`}>
                {words.xml}
              </a>
            </>
          )
        }
      />
      <Standing certificate={certificate} />
      {!pdf && <NotRendered number={certificate.number} />}
      <Results certificate={certificate} />
      <Signatures certificate={certificate} />
      <Frozen certificate={certificate} />
      <div className="row no-print">
        <Link className="link-line" href={`~/bench/${certificate.calibrationId}${search && `?${search}`}`}>
          {words.calibration}
        </Link>
        <Link className="link-line" href={`/journal?object=certificate/${certificate.number}`}>
          {words.entries}
        </Link>
        {certificate.state === 'valid' && may('issue') && (
          <Button look="quiet" onClick={() => setWithdrawing(true)}>
            {words.withdraw}
          </Button>
        )}
      </div>
      {isWithdrawing && <WithdrawDialog certificate={certificate} onClose={() => setWithdrawing(false)} />}
    </>
  );
}

/** Replaced or withdrawn is the first thing to see. */
function Standing({ certificate }: { certificate: Certificate }) {
  const { replacedBy, replacedBecause, withdrawal, replaces, reason } = certificate;
  return (
    <div className="stack">
      {replacedBy !== null && (
        <div className="stamp" role="note">
          <strong>{words.replaced(replacedBy)}</strong> <Link href={`/certificates/${replacedBy}`}>{replacedBy}</Link>
          {replacedBecause && <p>{words.replacedBecause(replacedBecause)}</p>}
        </div>
      )}
      {withdrawal && (
        <div className="stamp" role="note">
          <strong>{words.withdrawn(withdrawal.by, moment(withdrawal.at))}</strong>
          <p>{words.replacedBecause(withdrawal.reason)}</p>
        </div>
      )}
      {replaces !== null && (
        <p>
          {words.replaces(replaces, reason ?? '')} <Link href={`/certificates/${replaces}`}>{replaces}</Link>
        </p>
      )}
      {certificate.demonstration && <Notice>{words.demonstration}</Notice>}
    </div>
  );
}

function NotRendered({ number }: { number: string }) {
  const client = useQueryClient();
  const [key] = useState(newKey);
  const render = async () => {
    await post(`/api/certificates/${number}/rendering`, {}, key);
    await client.invalidateQueries({ queryKey: ['certificates'] });
  };
  return (
    <Notice tone="strong">
      {words.notRendered} <Button onClick={() => void render()}>{words.render}</Button>
    </Notice>
  );
}

function Results({ certificate }: { certificate: Certificate }) {
  const { result, toleranceBasis, verdictPrinted } = certificate;
  const basis =
    toleranceBasis.kind === 'confirmed'
      ? words.confirmed(toleranceBasis.by, moment(toleranceBasis.at), toleranceBasis.whereSeen)
      : words.bases[toleranceBasis.kind];
  return (
    <Section title={words.result} aside={verdictPrinted ? <VerdictMark verdict={result.verdict} /> : undefined}>
      {result.points.map((point) => {
        const volumes = result.trials.filter((trial) => Number(trial.pointMl) === Number(point.pointMl));
        return (
          <div className="card stack" key={point.pointMl}>
            <ToleranceStrip
              data={{
                nominalMl: Number(point.pointMl),
                toleranceMl: point.toleranceMl,
                guardedMl: guardedPart(
                  point.toleranceMl,
                  point.expandedUncertaintyMl,
                  result.decisionRule === 'guarded',
                ),
                volumesMl: volumes.filter((trial) => trial.exclusion === null).map((trial) => trial.volumeMl),
                excludedMl: volumes.filter((trial) => trial.exclusion !== null).map((trial) => trial.volumeMl),
                meanMl: point.meanMl,
                expandedUncertaintyMl: point.expandedUncertaintyMl,
              }}
              height={96}
              verdict={verdictPrinted ? point.verdict : null}
              coverageFactor={point.coverageFactor}
            />
            <PointFigures point={point} />
          </div>
        );
      })}
      <p className="quiet measure">
        {certificate.toleranceName && `${certificate.toleranceName}. `}
        {basis}
        {!verdictPrinted && toleranceBasis.kind === 'not-checked' && ` ${words.verdictNotPrinted}`}
      </p>
    </Section>
  );
}

function Signatures({ certificate }: { certificate: Certificate }) {
  return (
    <Section title={words.signatures}>
      <dl className="facts">
        {certificate.signatures.map((signature) => (
          <Fragment key={signature.meaning + signature.at}>
            <dt>{words.meanings[signature.meaning]}</dt>
            <dd>
              {signature.name}, {moment(signature.at)}
              {signature.ownWork && signature.meaning !== 'measured' && (
                <span className="quiet"> ({words.ownWork})</span>
              )}
            </dd>
          </Fragment>
        ))}
      </dl>
    </Section>
  );
}

function Frozen({ certificate }: { certificate: Certificate }) {
  const { entry, files, differences, program } = certificate;
  return (
    <Section title={words.frozen}>
      {differences.length === 0 ? (
        <p>{words.same}</p>
      ) : (
        <Notice tone="strong">
          <strong>{words.differs}</strong>
          <ul>
            {differences.map((difference) => (
              <li key={difference.detail}>{difference.detail}</li>
            ))}
          </ul>
        </Notice>
      )}
      <details className="unfold">
        <summary>
          {words.program(program)}, {words.entry(entry.number)}
        </summary>
        <dl className="facts">
          <dt>{words.entry(entry.number)}</dt>
          <dd className="hash">{entry.hash}</dd>
          <dt>{words.frozenHash}</dt>
          <dd className="hash">{entry.frozenHash}</dd>
          {files.map((file) => (
            <FileHash key={file.format} format={file.format} sha256={file.sha256} />
          ))}
        </dl>
      </details>
    </Section>
  );
}

function FileHash({ format, sha256 }: { format: string; sha256: string }) {
  return (
    <>
      <dt>{words.fileHash(format.toUpperCase())}</dt>
      <dd className="hash">{sha256}</dd>
    </>
  );
}
