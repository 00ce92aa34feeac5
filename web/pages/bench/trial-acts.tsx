import { type ComponentProps, Suspense } from 'react';
import { later } from '../../parts/later.tsx';

// Fetched when a trial is opened: the bench has to be there for typing first.
const TrialStory = later(() => import('./trial-story.tsx'));

export const TrialActs = (props: ComponentProps<typeof TrialStory>) => (
  <Suspense fallback={null}>
    <TrialStory {...props} />
  </Suspense>
);
