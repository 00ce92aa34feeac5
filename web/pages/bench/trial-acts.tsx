import { type ComponentProps, lazy, Suspense } from 'react';

// Fetched when a trial is opened: the bench has to be there for typing first.
const TrialStory = lazy(() => import('./trial-story.tsx'));

export const TrialActs = (props: ComponentProps<typeof TrialStory>) => (
  <Suspense fallback={null}>
    <TrialStory {...props} />
  </Suspense>
);
