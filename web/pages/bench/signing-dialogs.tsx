import { useState } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import type { Certificate } from '../../../server/certificates/contract.ts';
import { recordsText, signingText } from '../../messages/en-records.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Field } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { decimalsForUncertainty, fixed } from '../../parts/rounding.ts';
import { VerdictMark } from '../../parts/verdict.tsx';
import { useSession } from '../../session.ts';
import type { ActProps } from './calibration-dialogs.tsx';

const words = signingText;
export type SigningAct = 'check' | 'issue' | 'amend';

/** The dialog of one signature; each asks for the passphrase. */
export default function SigningDialog({ act, ...props }: ActProps & { act: SigningAct }) {
  if (act === 'check') return <CheckDialog {...props} />;
  if (act === 'issue') return <IssueDialog {...props} />;
  return <AmendDialog {...props} />;
}

interface PassphraseProps {
  value: string;
  onChange: (value: string) => void;
  submission: Submission;
}

function Passphrase({ value, onChange, submission }: PassphraseProps) {
  return (
    <Field
      secret
      name="password"
      label={words.passphrase}
      help={words.passphraseHelp}
      autoComplete="current-password"
      value={value}
      problem={submission.problemAt('password')}
      onChange={onChange}
    />
  );
}

function CheckDialog({ calibration, onClose }: ActProps) {
  const [password, setPassword] = useState('');
  const [note, setNote] = useState('');
  const me = useSession().data?.person?.name;
  const isOwnWork = me !== undefined && calibration.trials.some((trial) => trial.recordedBy === me);
  return (
    <ActDialog
      title={words.checkTitle(calibration.vessel.tag)}
      what={
        <>
          <p>{words.checkWhat}</p>
          <Review calibration={calibration} />
          {isOwnWork && <p>{words.ownWork}</p>}
        </>
      }
      path={`/api/calibrations/${calibration.id}/check`}
      act={words.check}
      needsReason={false}
      body={() => ({ body: { password, ...(note.trim() ? { note } : {}) } })}
      onClose={onClose}
    >
      {(submission) => (
        <>
          <Field
            name="note"
            label={words.checkNote}
            optional
            value={note}
            problem={submission.problemAt('note')}
            onChange={setNote}
          />
          <Passphrase value={password} onChange={setPassword} submission={submission} />
        </>
      )}
    </ActDialog>
  );
}

function IssueDialog({ calibration, onClose }: ActProps) {
  const [password, setPassword] = useState('');
  const [dueOn, setDueOn] = useState('');
  return (
    <ActDialog
      title={words.issueTitle(calibration.vessel.tag)}
      what={
        <>
          <p>{words.issueWhat}</p>
          <Review calibration={calibration} />
        </>
      }
      path={`/api/calibrations/${calibration.id}/issue`}
      act={words.issue}
      needsReason={false}
      body={() => ({ body: { password, ...(dueOn.trim() ? { dueOn: dueOn.trim() } : {}) } })}
      onClose={onClose}
    >
      {(submission) => (
        <>
          <Field
            name="dueOn"
            label={words.dueOn}
            help={words.dueOnHelp}
            optional
            width="short"
            value={dueOn}
            problem={submission.problemAt('dueOn')}
            onChange={setDueOn}
          />
          <Passphrase value={password} onChange={setPassword} submission={submission} />
        </>
      )}
    </ActDialog>
  );
}

/** What the name will stand under, in a few lines. */
function Review({ calibration }: { calibration: Calibration }) {
  return (
    <div className="card stack tight">
      <strong>{words.review}</strong>
      {calibration.points.map((point) => {
        const { meanMl, expandedUncertaintyMl: uncertainty, coverageFactor } = point;
        if (meanMl === null) return null;
        const decimals = uncertainty === null ? 4 : decimalsForUncertainty(uncertainty);
        return (
          <p key={point.pointMl}>
            {words.mean(
              point.pointMl,
              fixed(meanMl, decimals),
              uncertainty === null ? recordsText.none : fixed(uncertainty, decimals),
              coverageFactor?.toFixed(2) ?? recordsText.none,
            )}
            <br />
            <span className="quiet small">{words.counted(point.n, point.nRecorded)}</span>{' '}
            <VerdictMark verdict={point.verdict} />
          </p>
        );
      })}
    </div>
  );
}

function AmendDialog({ calibration, onClose }: ActProps) {
  const [password, setPassword] = useState('');
  const standing = calibration.certificates.find((certificate) => certificate.state === 'valid');
  return (
    <ActDialog
      title={words.amendTitle(standing?.number ?? '')}
      what={words.amendWhat}
      path={`/api/calibrations/${calibration.id}/amendment`}
      act={words.amend}
      body={() => ({ body: { password } })}
      onClose={onClose}
    >
      {(submission) => <Passphrase value={password} onChange={setPassword} submission={submission} />}
    </ActDialog>
  );
}

export function WithdrawDialog({ certificate, onClose }: { certificate: Certificate; onClose: () => void }) {
  const [password, setPassword] = useState('');
  return (
    <ActDialog
      title={recordsText.certificate.withdrawTitle(certificate.number)}
      what={recordsText.certificate.withdrawWhat}
      path={`/api/calibrations/${certificate.calibrationId}/certificates/${certificate.number}/withdrawal`}
      act={recordsText.certificate.withdraw}
      body={() => ({ body: { password } })}
      onClose={onClose}
    >
      {(submission) => <Passphrase value={password} onChange={setPassword} submission={submission} />}
    </ActDialog>
  );
}
