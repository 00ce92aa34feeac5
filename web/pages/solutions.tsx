import { Route, Switch } from 'wouter';
import { later } from '../parts/later.tsx';
import NotFoundPage from './not-found.tsx';
import { PreparingPageOnly } from './solutions/for-preparing.tsx';
import { Shelf } from './solutions/shelf.tsx';

const ChoosePage = later(() => import('./solutions/choose.tsx'));
const SeriesPage = later(() => import('./solutions/series.tsx'));
const SolidPage = later(() => import('./solutions/solid.tsx'));
const DilutionPage = later(() => import('./solutions/dilution.tsx'));
const StandardisationPage = later(() => import('./solutions/standardisation.tsx'));
const PreparationPage = later(() => import('./solutions/preparation.tsx'));

/** Solutions: the shelf, the choice of a vessel, three ways of making one, and the record of each. Addresses stand below `/solutions`. */
export default function SolutionsRoom() {
  return (
    <Switch>
      <Route path="/" component={Shelf} />
      <Route path="/choose" component={ChoosePage} />
      <Route path="/series" component={SeriesPage} />
      <Route path="/solid">
        <PreparingPageOnly>
          <SolidPage />
        </PreparingPageOnly>
      </Route>
      <Route path="/dilution">
        <PreparingPageOnly>
          <DilutionPage />
        </PreparingPageOnly>
      </Route>
      <Route path="/standardisation">
        <PreparingPageOnly>
          <StandardisationPage />
        </PreparingPageOnly>
      </Route>
      <Route path="/:id">{({ id }) => <PreparationPage key={id} id={id} />}</Route>
      <Route component={NotFoundPage} />
    </Switch>
  );
}
