import { Route, Switch, useLocation } from 'wouter';
import { CautionsPage } from './reference/cautions.tsx';
import { FactorsPage } from './reference/factors.tsx';
import { FormulasPage } from './reference/formulas.tsx';
import { MeniscusPage } from './reference/meniscus.tsx';
import { Overview } from './reference/overview.tsx';
import { ReferenceNavigation } from './reference/parts.tsx';
import { RefusalPage, RefusalsPage } from './reference/refusals.tsx';
import { AssumptionsPage, FindingsPage, MaterialsPage, SourcesPage, WordsPage } from './reference/tables.tsx';
import { TolerancesPage } from './reference/tolerances.tsx';
import { VesselsPage } from './reference/vessels.tsx';
import NotFoundPage from './not-found.tsx';
import './reference.css';

/** The room of what is known: formulas, limits, practice, words. */
export default function ReferencePage() {
  const [path] = useLocation();
  const room = path.split('/')[1] ?? '';
  if (room === '') return <Overview />;
  return (
    <div className="reference">
      <ReferenceNavigation at={room} />
      <div className="reference-page" key={path}>
        <Switch>
          <Route path="/formulas">
            <FormulasPage />
          </Route>
          <Route path="/formulas/:id">{({ id }) => <FormulasPage id={id} />}</Route>
          <Route path="/factors" component={FactorsPage} />
          <Route path="/assumptions" component={AssumptionsPage} />
          <Route path="/tolerances" component={TolerancesPage} />
          <Route path="/materials" component={MaterialsPage} />
          <Route path="/meniscus" component={MeniscusPage} />
          <Route path="/vessels" component={VesselsPage} />
          <Route path="/cautions" component={CautionsPage} />
          <Route path="/findings" component={FindingsPage} />
          <Route path="/refusals" component={RefusalsPage} />
          <Route path="/refusals/:code">{({ code }) => <RefusalPage code={code} />}</Route>
          <Route path="/words" component={WordsPage} />
          <Route path="/sources" component={SourcesPage} />
          <Route component={NotFoundPage} />
        </Switch>
      </div>
    </div>
  );
}
