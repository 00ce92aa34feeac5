import { useState } from 'react';
import type { Round, RoundRow } from '../../../server/lots/contract-round.ts';
import { gridText } from '../../messages/en-lots.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button } from '../../parts/button.tsx';
import { TextArea, Tick } from '../../parts/field.tsx';
import { useDeeds } from '../../use-deeds.ts';

const words = gridText;
const FIT = { chips: false, cracks: false, cleanFilm: true, dry: true };

const fitBody = (row: RoundRow) => ({ findings: FIT, outcome: 'fit', calibrationId: row.calibrationId });

const pathOf = (row: RoundRow): string => `/api/vessels/${row.vessel.id}/inspections`;

/** Ticked once the vessel was looked over before its first trial. */
export function LookedOver({ row, canType }: { row: RoundRow; canType: boolean }) {
  const { deeds, isUnderWay } = useDeeds();
  const path = pathOf(row);
  const isDone = row.inspection !== null || isUnderWay(path);
  return (
    <label className="tick grid-tick">
      <input
        type="checkbox"
        aria-label={words.lookedOverLabel(row.vessel.tag)}
        checked={isDone}
        disabled={isDone || !canType}
        onChange={() => deeds.add(path, fitBody(row), words.lookedOverWhat(row.vessel.tag))}
      />
      <span>{words.lookedOver}</span>
    </label>
  );
}

/** A damaged vessel ends here and goes out of use. */
export function Damaged({ row }: { row: RoundRow }) {
  const [isAsking, setAsking] = useState(false);
  return (
    <>
      <button
        type="button"
        className="grid-damaged"
        tabIndex={-1}
        aria-label={words.damagedLabel(row.vessel.tag)}
        onClick={() => setAsking(true)}
      >
        {words.damaged}
      </button>
      {isAsking && <DamagedDialog row={row} onClose={() => setAsking(false)} />}
    </>
  );
}

function DamagedDialog({ row, onClose }: { row: RoundRow; onClose: () => void }) {
  const [chips, setChips] = useState(false);
  const [cracks, setCracks] = useState(false);
  const [note, setNote] = useState('');
  const findings = { ...FIT, cleanFilm: false, dry: false, chips, cracks };
  return (
    <ActDialog
      title={words.damagedTitle(row.vessel.tag)}
      what={words.damagedWhat}
      path={pathOf(row)}
      act={words.doDamaged}
      needsReason={false}
      body={() => ({
        body: {
          findings,
          outcome: 'damaged',
          calibrationId: row.calibrationId,
          ...(note.trim() === '' ? {} : { note: note.trim() }),
        },
      })}
      onClose={onClose}
    >
      {(submission) => (
        <>
          <Tick name="chips" label={words.chips} checked={chips} onChange={setChips} />
          <Tick name="cracks" label={words.cracks} checked={cracks} onChange={setCracks} />
          <TextArea
            name="note"
            label={words.damagedNote}
            optional
            rows={2}
            value={note}
            problem={submission.problemAt('note')}
            onChange={setNote}
          />
        </>
      )}
    </ActDialog>
  );
}

/** For whoever looked over the whole delivery before the first weighing. */
export function AllLookedOver({ round }: { round: Round }) {
  const { deeds, isUnderWay } = useDeeds();
  const left = round.rows.filter((row) => row.state === 'open' && row.inspection === null && !isUnderWay(pathOf(row)));
  if (left.length === 0) return null;
  return (
    <div className="row">
      <Button
        onClick={() =>
          left.forEach((row) => deeds.add(pathOf(row), fitBody(row), words.lookedOverWhat(row.vessel.tag)))
        }
      >
        {words.allLookedOver(left.length)}
      </Button>
      <span className="quiet small">{words.lookWhat}</span>
    </div>
  );
}
