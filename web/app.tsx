import { QueryClientProvider } from '@tanstack/react-query';
import { Suspense, useState } from 'react';
import { Route, Switch } from 'wouter';
import { text } from './messages/en.ts';
import { Crashed } from './parts/crashed.tsx';
import { BenchPageOnly } from './parts/for-bench.tsx';
import { Loading } from './parts/loading.tsx';
import { Shell } from './parts/shell.tsx';
import { makeQueryClient } from './queries.ts';
import { makeOutbox, OutboxProvider, useOutboxAtWork } from './use-outbox.ts';
import { later } from './parts/later.tsx';

// Every room is fetched when it is entered, so that the bench stays light.
const TodayPage = later(() => import('./pages/today.tsx'));
const GlasswarePage = later(() => import('./pages/glassware.tsx'));
const NewVesselPage = later(() => import('./pages/new-vessel.tsx'));
const MakersPage = later(() => import('./pages/makers.tsx'));
const CorrectVesselPage = later(() => import('./pages/correct-vessel.tsx'));
const VesselPage = later(() => import('./pages/vessel.tsx'));
const OldSheetsPage = later(() => import('./pages/old-sheets.tsx'));
const LotsRoom = later(() => import('./pages/lots.tsx'));
const BenchRoomPage = later(() => import('./pages/bench-room.tsx'));
const StartPage = later(() => import('./pages/start-calibration.tsx'));
const BenchPage = later(() => import('./pages/bench.tsx'));
const TeachingPage = later(() => import('./pages/teaching.tsx'));
const PrintSheetsPage = later(() => import('./pages/recording-sheets/print.tsx'));
const LabelsPage = later(() => import('./pages/labels/labels.tsx'));
const SolutionsRoom = later(() => import('./pages/solutions.tsx'));
const InstrumentsPage = later(() => import('./pages/instruments.tsx'));
const TakeAwayPage = later(() => import('./pages/records/take-away.tsx'));
const RecordsPage = later(() => import('./pages/records.tsx'));
const ReferencePage = later(() => import('./pages/reference.tsx'));
const ProblemPage = later(() => import('./pages/problem.tsx'));
const SettingsPage = later(() => import('./pages/settings.tsx'));
const PeoplePage = later(() => import('./pages/settings/people.tsx'));
const KeysPage = later(() => import('./pages/settings/keys.tsx'));
const MyAccessPage = later(() => import('./pages/settings/my-access.tsx'));
const SignInPage = later(() => import('./pages/sign-in.tsx'));
const SetUpPage = later(() => import('./pages/set-up.tsx'));
const NotFoundPage = later(() => import('./pages/not-found.tsx'));

export function App() {
  const [client] = useState(makeQueryClient);
  const [outbox] = useState(() => makeOutbox(client));
  useOutboxAtWork(outbox);
  return (
    <QueryClientProvider client={client}>
      <OutboxProvider value={outbox}>
        <Shell>
          <Crashed>
            <Suspense fallback={<Loading what={text.shell.page} />}>
              <Rooms />
            </Suspense>
          </Crashed>
        </Shell>
      </OutboxProvider>
    </QueryClientProvider>
  );
}

function Rooms() {
  return (
    <Switch>
      <Route path="/" component={TodayPage} />
      <Route path="/glassware" component={GlasswarePage} />
      <Route path="/glassware/labels" component={LabelsPage} />
      <Route path="/glassware/sheets" component={PrintSheetsPage} />
      <Route path="/glassware/new">
        <BenchPageOnly back="/glassware">
          <NewVesselPage />
        </BenchPageOnly>
      </Route>
      <Route path="/glassware/makers" component={MakersPage} />
      <Route path="/glassware/:id">{({ id }) => <VesselPage key={id} id={id} />}</Route>
      <Route path="/glassware/:id/correct">
        {({ id }) => (
          <BenchPageOnly back={`/glassware/${id}`}>
            <CorrectVesselPage key={id} id={id} />
          </BenchPageOnly>
        )}
      </Route>
      <Route path="/old-sheets">
        <BenchPageOnly back="/glassware">
          <OldSheetsPage />
        </BenchPageOnly>
      </Route>
      <Route path="/lots" component={LotsRoom} nest />
      <Route path="/bench" component={BenchRoomPage} />
      <Route path="/bench/new">
        <BenchPageOnly back="/bench">
          <StartPage />
        </BenchPageOnly>
      </Route>
      <Route path="/bench/:id">{({ id }) => <BenchPage key={id} id={id} />}</Route>
      {/* These have addresses of their own below them: `/instruments/new`, `/reference/air-density`. */}
      <Route path="/class" component={TeachingPage} nest />
      <Route path="/solutions" component={SolutionsRoom} nest />
      <Route path="/instruments" component={InstrumentsPage} nest />
      <Route path="/records/take-away" component={TakeAwayPage} />
      <Route path="/records" component={RecordsPage} nest />
      <Route path="/reference" component={ReferencePage} nest />
      <Route path="/problems/:code">{({ code }) => <ProblemPage key={code} code={code} />}</Route>
      <Route path="/settings" component={SettingsPage} />
      <Route path="/settings/people" component={PeoplePage} />
      <Route path="/settings/keys" component={KeysPage} />
      <Route path="/settings/my-access" component={MyAccessPage} />
      <Route path="/sign-in" component={SignInPage} />
      <Route path="/set-up" component={SetUpPage} />
      <Route component={NotFoundPage} />
    </Switch>
  );
}
