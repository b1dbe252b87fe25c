import { lazy, Suspense } from 'react'
import { Route, Switch } from 'wouter'
import { ProjectScreen } from '../projects/screens.tsx'
import { SiteScreen } from '../site/screens.tsx'
import { Busy } from '../ui/busy.tsx'
import { Gone } from './gone.tsx'
import { useSay } from './words.tsx'

// Each is fetched when it is first visited; the first one is what a person sees on opening a project.
const RoomMapScreen = lazy(async () => ({ default: (await import('../rooms/screens.tsx')).RoomMapScreen }))
const RoomEditorScreen = lazy(async () => ({ default: (await import('../rooms/screens.tsx')).RoomEditorScreen }))
const RunScreen = lazy(async () => ({ default: (await import('../readings/screens.tsx')).RunScreen }))
const CertificationScreen = lazy(async () => ({ default: (await import('../certifications/screens.tsx')).CertificationScreen }))
const BalanceScreen = lazy(async () => ({ default: (await import('../balance/screens.tsx')).BalanceScreen }))
const CompareScreen = lazy(async () => ({ default: (await import('../compare/screens.tsx')).CompareScreen }))
const HistoryScreen = lazy(async () => ({ default: (await import('../compare/screens.tsx')).HistoryScreen }))
const PlanScreen = lazy(async () => ({ default: (await import('../plan/screens.tsx')).PlanScreen }))
const CriteriaScreen = lazy(async () => ({ default: (await import('../criteria/screens.tsx')).CriteriaScreen }))
const CriteriaSetScreen = lazy(async () => ({ default: (await import('../criteria/screens.tsx')).CriteriaSetScreen }))
const ImportScreen = lazy(async () => ({ default: (await import('../imports/screens.tsx')).ImportScreen }))
const InstrumentsScreen = lazy(async () => ({ default: (await import('../instruments/screens.tsx')).InstrumentsScreen }))
const InstrumentScreen = lazy(async () => ({ default: (await import('../instruments/screens.tsx')).InstrumentScreen }))
const AuditScreen = lazy(async () => ({ default: (await import('../audit/screens.tsx')).AuditScreen }))

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
