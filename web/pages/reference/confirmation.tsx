import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { ToleranceRowOnWire } from '../../../server/reference/contract.ts';
import type { Confirmation } from '../../../server/tolerances/contract.ts';
import { get, newKey, post } from '../../api.ts';
import { confirmationText as words } from '../../messages/en-confirmation.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Field } from '../../parts/field.tsx';
import { moment } from '../../parts/time.ts';
import { useMay } from '../../session.ts';
import { confirmationOf, rowKey, rowWords } from './confirmed-rows.ts';

/** Who saw which limit in the standard itself; the same list for every row. */
const useConfirmations = () =>
  useQuery({
    queryKey: ['confirmations'],
    queryFn: ({ signal }) => get<{ items: Confirmation[] }>('/api/tolerances/confirmations', signal),
  });

/** For a row not read in the standard: who confirmed it, and the way to confirm it. */
export function ConfirmationOfRow({ row }: { row: ToleranceRowOnWire }) {
  const [isAsked, setAsked] = useState(false);
  const confirmations = useConfirmations();
  const may = useMay();
  if (row.readInStandard) return null;
  const confirmed = confirmationOf(row, confirmations.data?.items ?? []);
  return (
    <span className="confirmation">
      {confirmed && <strong>{words.confirmed(confirmed.by, moment(confirmed.at), confirmed.whereSeen)}</strong>}
      {may('keep') && (
        <button
          type="button"
          className="confirmation-act no-print"
          aria-label={words.actFor(rowWords(row))}
          onClick={() => setAsked(true)}
        >
          {confirmed ? words.again : words.act}
        </button>
      )}
      {isAsked && <ConfirmDialog row={row} onClose={() => setAsked(false)} />}
    </span>
  );
}

function ConfirmDialog({ row, onClose }: { row: ToleranceRowOnWire; onClose: () => void }) {
  const [key] = useState(newKey);
  const [whereSeen, setWhereSeen] = useState('');
  return (
    <ActDialog
      title={words.title}
      what={
        <div className="stack tight">
          <p>
            <strong>{rowWords(row)}</strong>
          </p>
          <p className="quiet">{words.what}</p>
        </div>
      }
      path="/api/tolerances/confirmations"
      act={words.confirm}
      needsReason={false}
      send={(body) => post('/api/tolerances/confirmations', body, key)}
      body={() =>
        whereSeen.trim() === ''
          ? { problems: { whereSeen: words.whereMissing } }
          : { body: { ...rowKey(row), whereSeen: whereSeen.trim() } }
      }
      onClose={onClose}
    >
      {(submission) => (
        <Field
          name="whereSeen"
          label={words.where}
          help={words.whereHelp}
          value={whereSeen}
          problem={submission.problemAt('whereSeen')}
          onChange={setWhereSeen}
        />
      )}
    </ActDialog>
  );
}
