import { useQuery } from '@tanstack/react-query'
import { Link, useSearchParams } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import type { History } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { Gone } from '../app/gone.tsx'
import { useFailureText, useSay } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { Busy } from '../ui/busy.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { Panel, ScreenHead } from '../ui/panel.tsx'
import { Segmented } from '../ui/segmented.tsx'
import styles from './compare.module.css'
import { HistoryChart } from './history-chart.tsx'
import { HistoryTable } from './history-table.tsx'

type Quantity = History['quantity']
type Subject = Entity<'terminal'> | Entity<'room'>

/** One filter or room over the years. */
export function HistoryScreen({ subjectId }: { subjectId: Uuid }) {
  useNoWhy()
  const t = useSay()
  const failureText = useFailureText()
  const query = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['room', 'terminal'], within: null } }))
  if (query.error) return <p role="alert">{failureText(query.error)}</p>
  if (!query.data) return <Busy label={t('app.loading', {})} />
  const subject = query.data.find((entity) => entity.id === subjectId)
  if (subject?.kind !== 'room' && subject?.kind !== 'terminal') return <Gone title={t('compare.history.gone', {})} />
  return <SubjectHistory subject={subject} />
}

function quantitiesOf(subject: Subject): readonly Quantity[] {
  if (subject.kind === 'terminal') {
    // Whatever the filter is designed by is what its limits speak of.
    return subject.body.designFlow && !subject.body.designVelocity ? ['flow', 'face_velocity'] : ['face_velocity', 'flow']
  }
  return subject.body.airflowType === 'unidirectional' ? ['face_velocity', 'flow', 'air_changes'] : ['air_changes', 'flow', 'face_velocity']
}

function SubjectHistory({ subject }: { subject: Subject }) {
  const t = useSay()
  const failureText = useFailureText()
  const [search, setSearch] = useSearchParams()
  const quantities = quantitiesOf(subject)
  const quantity = quantities.find((one) => one === search.get('quantity')) ?? quantities[0] ?? 'face_velocity'
  const query = useQuery(orpc.compare.history.queryOptions({ input: { subjectId: subject.id, quantity } }))
  const label = subject.kind === 'room' ? `${subject.body.number} ${subject.body.name}` : subject.body.tag
  const roomId = subject.kind === 'room' ? subject.id : subject.parentId
  const words: Record<Quantity, string> = {
    face_velocity: t('compare.history.quantity.face_velocity', {}),
    flow: t('compare.history.quantity.flow', {}),
    air_changes: t('compare.history.quantity.air_changes', {}),
  }
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={t('compare.history.title', { label })}
        about={subject.kind === 'room' ? t('compare.history.about_room', {}) : t('compare.history.about_filter', {})}
        actions={
          <>
            <Segmented
              label={t('compare.history.quantity', {})}
              value={quantity}
              choices={quantities.map((value) => ({ value, label: words[value] }))}
              onChange={(value) => setSearch({ quantity: value }, { replace: true })}
            />
            <Link href={`/room/${roomId}${subject.kind === 'terminal' ? `?select=${subject.id}` : ''}`}>
              {t('compare.history.map', {})}
            </Link>
            <Link href={`/audit?about=${subject.id}`}>{t('compare.history.trail', {})}</Link>
          </>
        }
      />
      {query.error ? <p role="alert">{failureText(query.error)}</p> : null}
      {query.isPending ? <Busy label={t('app.loading', {})} /> : null}
      {query.data?.points.length === 0 ? (
        <EmptyState icon="clock" title={t('compare.history.empty', {})}>
          {t('compare.history.empty_text', {})}
        </EmptyState>
      ) : null}
      {query.data && query.data.points.length > 0 ? (
        <div className={styles.history}>
          <Panel title={words[quantity]} flush>
            <HistoryChart history={query.data} wholeRoom={subject.kind === 'room'} />
          </Panel>
          <HistoryTable history={query.data} terminalId={subject.kind === 'terminal' ? subject.id : null} />
        </div>
      ) : null}
    </div>
  )
}
