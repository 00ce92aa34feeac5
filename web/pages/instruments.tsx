import { Route, Switch } from 'wouter';
import { ChangeInstrument } from './instruments/change.tsx';
import { InstrumentList } from './instruments/list.tsx';
import { NewInstrument } from './instruments/new.tsx';
import { InstrumentPage } from './instruments/one.tsx';
import './instruments.css';
import { BenchPageOnly } from '../parts/for-bench.tsx';

/** The register of what the laboratory weighs and measures with. */
export default function InstrumentsPage() {
  return (
    <Switch>
      <Route path="/new">
        <BenchPageOnly back="/">
          <NewInstrument />
        </BenchPageOnly>
      </Route>
      <Route path="/:id/change">
        {({ id }) => (
          <BenchPageOnly back={`/${id}`}>
            <ChangeInstrument key={id} id={id} />
          </BenchPageOnly>
        )}
      </Route>
      <Route path="/:id">{({ id }) => <InstrumentPage key={id} id={id} />}</Route>
      <Route component={InstrumentList} />
    </Switch>
  );
}
