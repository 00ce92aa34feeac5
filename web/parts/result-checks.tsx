import { type ReactNode, Suspense, useState } from 'react';
import { unfoldText } from '../messages/en-unfold.ts';
import { later } from './later.tsx';

const Referee = later(() => import('./referee.tsx'));

/** A heading that opens; what is inside is fetched with the first opening. */
export function Opening({ title, children }: { title: string; children: ReactNode }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <details className="unfold" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {isOpen && <Suspense fallback={<p className="quiet">{unfoldText.loading}</p>}>{children}</Suspense>}
    </details>
  );
}

/** The referee of one point, where a trial counts. */
export function RefereeOpening({ calibrationId, pointMl }: { calibrationId: string; pointMl: string }) {
  return (
    <Opening title={unfoldText.referee}>
      <Referee calibrationId={calibrationId} pointMl={pointMl} />
    </Opening>
  );
}
