import { Route, Switch } from 'wouter';
import { ChangePlan, NewPlan } from './class/plan-page.tsx';
import { EnterPage } from './class/enter.tsx';
import { ExperimentList } from './class/list.tsx';
import { NumbersPage } from './class/numbers.tsx';
import { ExperimentPage } from './class/one.tsx';
import './class.css';

/** Class experiments: what whoever teaches plans, runs and ends. */
export default function ClassPage() {
  return (
    <Switch>
      <Route path="/new/:template">{({ template }) => <NewPlan key={template} template={template} />}</Route>
      <Route path="/:id/plan">{({ id }) => <ChangePlan key={id} id={id} />}</Route>
      <Route path="/:id/numbers">{({ id }) => <NumbersPage key={id} id={id} />}</Route>
      <Route path="/:id/enter">{({ id }) => <EnterPage key={id} id={id} />}</Route>
      <Route path="/:id">{({ id }) => <ExperimentPage key={id} id={id} />}</Route>
      <Route component={ExperimentList} />
    </Switch>
  );
}
