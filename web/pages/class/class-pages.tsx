import { Suspense, useCallback, useEffect, useState } from 'react';
import { text } from '../../messages/en.ts';
import { later } from '../../parts/later.tsx';
import { Loading } from '../../parts/loading.tsx';
import { GroupPage } from './group.tsx';
import { JoinPage } from './join.tsx';
import { type Place, PLACES } from './place.ts';

// A projector fetches what phones have no use for.
const BoardPage = later(() => import('./board.tsx'));
const AssistPage = later(() => import('./assist.tsx'));

const placeAt = (path: string): Place => {
  const name = /^\/(\w+)\/?$/.exec(path)?.[1];
  return PLACES.find((place) => place === name) ?? 'join';
};

/** Four pages at addresses of their own; everything else leads to coming in. */
export function ClassPages() {
  const [place, setPlace] = useState(() => placeAt(window.location.pathname));
  useEffect(() => {
    const moved = () => setPlace(placeAt(window.location.pathname));
    window.addEventListener('popstate', moved);
    return () => window.removeEventListener('popstate', moved);
  }, []);
  const go = useCallback((to: Place) => {
    window.history.pushState(null, '', `/${to}`);
    setPlace(to);
    window.scrollTo(0, 0);
  }, []);
  if (place === 'board' || place === 'assist')
    return (
      <Suspense fallback={<Loading what={text.shell.page} />}>
        {place === 'board' ? <BoardPage /> : <AssistPage />}
      </Suspense>
    );
  return place === 'group' ? <GroupPage go={go} /> : <JoinPage go={go} />;
}
