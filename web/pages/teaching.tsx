import { Route, Switch } from 'wouter';
import { ChangePlan, NewPlan } from './teaching/plan-page.tsx';
import { EnterPage } from './teaching/enter.tsx';
import { ExperimentList } from './teaching/list.tsx';
import { NumbersPage } from './teaching/numbers.tsx';
import { ExperimentPage } from './teaching/one.tsx';
import './teaching.css';

/** Class experiments: what whoever teaches plans, runs and ends. */
export default function TeachingPage() {
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
