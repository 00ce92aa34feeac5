import { Suspense, useState } from 'react';
import { Link } from 'wouter';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import { recordsText, signingText } from '../../messages/en-records.ts';
import { Button } from '../../parts/button.tsx';
import { later } from '../../parts/later.tsx';
import { moment } from '../../parts/time.ts';
import { useMay, useSession } from '../../session.ts';
import type { SigningAct } from './signing-dialogs.tsx';

const SigningDialog = later(() => import('./signing-dialogs.tsx'));
const words = signingText;

/** Who signed a calibration, its certificates, and the next signature. */
export default function Paper({ calibration }: { calibration: Calibration }) {
  const [act, setAct] = useState<SigningAct | null>(null);
  const session = useSession().data;
  const may = useMay();
  const { state, signatures, certificates, id } = calibration;
  const hasPeople = session?.person != null;
  const next: SigningAct | null = state === 'measured' ? 'check' : state === 'checked' ? 'issue' : null;
  const isAmendable = state === 'issued' && certificates[0]?.state === 'valid';
  return (
    <section className="side-part stack tight">
      <h2>{words.paper}</h2>
      {signatures.length === 0 && certificates.length === 0 && <p className="quiet">{words.nothing}</p>}
      <ul className="plain stack tight">
        {signatures.map((signature) => (
          <li key={signature.meaning + signature.at}>
            {words.signed(recordsText.certificate.meanings[signature.meaning], signature.name, moment(signature.at))}
          </li>
        ))}
        {certificates.map((certificate) => (
          <li key={certificate.number}>
            <Link className="link-line" href={`/records/certificates/${certificate.number}`}>
              {words.certificate(certificate.number, recordsText.certificate.states[certificate.state])}
            </Link>
          </li>
        ))}
        <li>
          <Link className="link-line" href={`/records/journal?object=calibration/${id}`}>
            {recordsText.entries.link}
          </Link>
        </li>
      </ul>
      {next && !hasPeople && <p className="quiet small">{words.needsPeople}</p>}
      {next === 'issue' && hasPeople && !may('issue') && <p className="quiet small">{words.mayNot}</p>}
      <div className="side-acts">
        {next === 'check' && hasPeople && may('bench') && (
          <Button bench look="primary" onClick={() => setAct('check')}>
            {words.check}
          </Button>
        )}
        {next === 'issue' && hasPeople && may('issue') && (
          <Button bench look="primary" onClick={() => setAct('issue')}>
            {words.issue}
          </Button>
        )}
        {isAmendable && hasPeople && may('issue') && (
          <Button look="quiet" onClick={() => setAct('amend')}>
            {words.amend}
          </Button>
        )}
      </div>
      {act && (
        <Suspense fallback={null}>
          <SigningDialog act={act} calibration={calibration} onClose={() => setAct(null)} />
        </Suspense>
      )}
    </section>
  );
}
