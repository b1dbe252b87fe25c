import { Link } from 'wouter'
import { inPathOrder } from '#core/methods/airflow/layout.ts'
import { airDirectionOf } from '#core/methods/airflow/ways.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Entity } from '#core/model/entities.ts'
import type { MethodId, Run } from '#core/model/runs.ts'
import type { Uuid } from '#core/model/values.ts'
import { useSay } from '../app/session.tsx'
import { WholeTags } from '../ui/whole-tags.tsx'
import styles from './start-run.module.css'

type StartListProps = {
  roomId: Uuid
  method: MethodId
  facingDegrees: Run['facingDegrees']
  /** of the room or zone that is measured */
  terminals: readonly Entity<'terminal'>[]
}

/** What will be measured how: terminals by their way and points, and the way to change one on the map. */
export function StartList({ roomId, method: id, facingDegrees, terminals }: StartListProps) {
  const t = useSay()
  const method = methodOf(id)
  const inScope = inPathOrder(terminals.filter(({ body }) => body.kind !== 'duct_section' || id === 'room_airflow'))
  const measured = inScope.filter(({ body }) => method.measures(body))
  const points = method.layOut({ terminals: measured, facingDegrees, gridFor: new Map() })
  const count = (terminalId: Uuid) => points.filter((point) => point.terminalId === terminalId).length
  const groups = new Map<string, { text: string; without: boolean; tags: string[] }>()
  for (const { id: terminalId, body } of id === 'room_airflow' ? inScope : measured) {
    const way = method.wayAt(body)
    const text = body.closed
      ? t('ways.start.closed', {})
      : way
        ? t('ways.start.how_group', { points: count(terminalId), of: { way, direction: airDirectionOf(body) } })
        : t('ways.start.no_way', {})
    const group = groups.get(text) ?? { text, without: way === null && !body.closed, tags: [] }
    group.tags.push(body.tag)
    groups.set(text, group)
  }
  return (
    <details className={styles.how} open={id === 'room_airflow'}>
      <summary>{t('ways.start.how', { terminals: measured.length, points: points.length })}</summary>
      <dl className={styles.lines}>
        {[...groups.values()].map(({ text, without, tags }) => (
          <div key={text} data-without={without ? '' : undefined}>
            <dt>{t('ways.start.group', { count: tags.length, text })}</dt>
            <dd>
              <WholeTags text={tags.join(', ')} />
            </dd>
          </div>
        ))}
      </dl>
      <Link href={`/room/${roomId}/edit`} className={styles.change}>
        {t('ways.start.change', {})}
      </Link>
    </details>
  )
}
