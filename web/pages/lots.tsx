import { Route, Switch, useSearchParams } from 'wouter';
import { BenchPageOnly } from '../parts/for-bench.tsx';
import { later } from '../parts/later.tsx';
import { LotList } from './lots/list.tsx';
import { LotPage } from './lots/lot.tsx';
import NotFoundPage from './not-found.tsx';

const NewLotPage = later(() => import('./lots/new-lot.tsx'));
const StartRoundPage = later(() => import('./lots/start-round.tsx'));
const CorrectLotPage = later(() => import('./lots/correct-lot.tsx'));
const GridPage = later(() => import('./lots/grid-page.tsx'));

/** Deliveries: their list, one of them, a new one, and the round of weighing. Addresses stand below `/lots`. */
export default function LotsRoom() {
  const [search] = useSearchParams();
  return (
    <Switch>
      <Route path="/" component={LotList} />
      <Route path="/new">
        <BenchPageOnly back="~/lots">
          <NewLotPage />
        </BenchPageOnly>
      </Route>
      <Route path="/:id">{({ id }) => <LotPage key={id} id={id} />}</Route>
      <Route path="/:id/round">
        {({ id }) => (
          <BenchPageOnly back={`/${id}`}>
            <StartRoundPage key={id} id={id} />
          </BenchPageOnly>
        )}
      </Route>
      <Route path="/:id/edit">
        {({ id }) => (
          <BenchPageOnly back={`/${id}`}>
            <CorrectLotPage key={id} id={id} />
          </BenchPageOnly>
        )}
      </Route>
      <Route path="/:id/bench">{({ id }) => <GridPage key={id} id={id} chosen={search.get('round')} />}</Route>
      <Route component={NotFoundPage} />
    </Switch>
  );
}
