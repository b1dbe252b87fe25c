import { lazy, Suspense } from 'react'
import { Route, Switch } from 'wouter'
import { ProjectScreen } from '../projects/screens.tsx'
import { SiteScreen } from '../site/screens.tsx'
import { Busy } from '../ui/busy.tsx'
import { Gone } from './gone.tsx'
import { whenReachable } from './reachable.ts'
import { useSay } from './words.tsx'

/** Code of the screens, by their folder. Each is fetched when it is first visited, or before that when the page has a moment. */
const SCREENS = {
  rooms: () => import('../rooms/screens.tsx'),
  readings: () => import('../readings/screens.tsx'),
  certifications: () => import('../certifications/screens.tsx'),
  balance: () => import('../balance/screens.tsx'),
  compare: () => import('../compare/screens.tsx'),
  plan: () => import('../plan/screens.tsx'),
  criteria: () => import('../criteria/screens.tsx'),
  imports: () => import('../imports/screens.tsx'),
  instruments: () => import('../instruments/screens.tsx'),
  audit: () => import('../audit/screens.tsx'),
}

/** Fetches what was not visited yet, so that it stands when the program cannot be reached for a while. */
export function fetchScreens(): void {
  // What cannot be fetched now is fetched when it is wanted.
  for (const load of Object.values(SCREENS)) void load().catch(() => undefined)
}

const RoomMapScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.rooms)).RoomMapScreen }))
const RoomEditorScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.rooms)).RoomEditorScreen }))
const RunScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.readings)).RunScreen }))
const CertificationScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.certifications)).CertificationScreen }))
const BalanceScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.balance)).BalanceScreen }))
const CompareScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.compare)).CompareScreen }))
const HistoryScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.compare)).HistoryScreen }))
const PlanScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.plan)).PlanScreen }))
const CriteriaScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.criteria)).CriteriaScreen }))
const CriteriaSetScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.criteria)).CriteriaSetScreen }))
const ImportScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.imports)).ImportScreen }))
const InstrumentsScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.instruments)).InstrumentsScreen }))
const InstrumentScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.instruments)).InstrumentScreen }))
const AuditScreen = lazy(async () => ({ default: (await whenReachable(SCREENS.audit)).AuditScreen }))

/** Which screen stands at which address. Keys make a screen start afresh when its subject changes. */
export function Routes() {
  const t = useSay()
  return (
    <Suspense fallback={<Busy label={t('app.loading', {})} />}>
      <Switch>
        <Route path="/site">
          <SiteScreen />
        </Route>
        <Route path="/room/:roomId">{({ roomId }) => <RoomMapScreen key={roomId} roomId={roomId} />}</Route>
        <Route path="/room/:roomId/edit">{({ roomId }) => <RoomEditorScreen key={roomId} roomId={roomId} />}</Route>
        <Route path="/certification/:id">{({ id }) => <CertificationScreen key={id} certificationId={id} />}</Route>
        <Route path="/run/:runId">{({ runId }) => <RunScreen key={runId} runId={runId} />}</Route>
        <Route path="/balance/:id">{({ id }) => <BalanceScreen key={id} certificationId={id} />}</Route>
        <Route path="/compare">
          <CompareScreen />
        </Route>
        <Route path="/history/:id">{({ id }) => <HistoryScreen key={id} subjectId={id} />}</Route>
        <Route path="/plan">
          <PlanScreen />
        </Route>
        <Route path="/criteria">
          <CriteriaScreen />
        </Route>
        <Route path="/criteria/:id">{({ id }) => <CriteriaSetScreen key={id} criteriaSetId={id} />}</Route>
        <Route path="/instruments">
          <InstrumentsScreen />
        </Route>
        <Route path="/instruments/:id">{({ id }) => <InstrumentScreen key={id} instrumentId={id} />}</Route>
        <Route path="/import">
          <ImportScreen />
        </Route>
        <Route path="/audit">
          <AuditScreen />
        </Route>
        <Route path="/project">
          <ProjectScreen />
        </Route>
        <Route>
          <Missing />
        </Route>
      </Switch>
    </Suspense>
  )
}

function Missing() {
  const t = useSay()
  return <Gone title={t('app.not_here', {})} />
}
