import { type ComponentType, lazy, Suspense } from 'react'
import { Link, Route, Switch } from 'wouter'
import { AuditScreen } from '../audit/screens.tsx'
import { ProjectScreen } from '../projects/screens.tsx'
import { SiteScreen } from '../site/screens.tsx'
import { Busy } from '../ui/busy.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { useSay } from './words.tsx'

type Screens = Record<string, ComponentType<Record<string, string>> | undefined>
const folders = import.meta.glob<Screens>('../*/screens.tsx')

/** A screen of another folder, fetched when it is first visited. */
function screen(folder: string, name: string): ComponentType<Record<string, string>> {
  return lazy(async () => ({ default: (await folders[`../${folder}/screens.tsx`]?.())?.[name] ?? Missing }))
}

const RoomMapScreen = screen('rooms', 'RoomMapScreen')
const RoomEditorScreen = screen('rooms', 'RoomEditorScreen')
const RunScreen = screen('readings', 'RunScreen')
const CertificationScreen = screen('certifications', 'CertificationScreen')
const CompareScreen = screen('compare', 'CompareScreen')
const HistoryScreen = screen('compare', 'HistoryScreen')
const PlanScreen = screen('plan', 'PlanScreen')
const CriteriaScreen = screen('criteria', 'CriteriaScreen')
const CriteriaSetScreen = screen('criteria', 'CriteriaSetScreen')
const InstrumentsScreen = screen('instruments', 'InstrumentsScreen')
const InstrumentScreen = screen('instruments', 'InstrumentScreen')

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
  return <EmptyState icon="find" title={t('app.not_here', {})} action={<Link href="/site">{t('app.go_to_site', {})}</Link>} />
}
