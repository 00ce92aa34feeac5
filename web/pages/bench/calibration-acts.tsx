import { Suspense } from 'react';
import type { ActProps } from './calibration-dialogs.tsx';
import { later } from '../../parts/later.tsx';

// Fetched when asked for: the bench has to be there for typing first.
const CalibrationDialog = later(() => import('./calibration-dialogs.tsx'));

export const FinishDialog = (props: ActProps & { isDone: boolean }) => (
  <Suspense fallback={null}>
    <CalibrationDialog {...props} act="finish" />
  </Suspense>
);

export const AbandonDialog = (props: ActProps) => (
  <Suspense fallback={null}>
    <CalibrationDialog {...props} act="abandon" isDone={false} />
  </Suspense>
);

export const ReopenDialog = (props: ActProps) => (
  <Suspense fallback={null}>
    <CalibrationDialog {...props} act="reopen" isDone={false} />
  </Suspense>
);

export const PlanDialog = (props: ActProps) => (
  <Suspense fallback={null}>
    <CalibrationDialog {...props} act="plan" isDone={false} />
  </Suspense>
);
