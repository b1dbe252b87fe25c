import { useQuery } from '@tanstack/react-query'
import type { Uuid } from '#core/model/values.ts'
import { unitLabel } from '#core/units/units.ts'
import { orpc } from '../app/client.ts'
import { useSay } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { DataTable } from '../ui/data-table.tsx'
import { repeatsOf } from './repeats.ts'
import styles from './steps.module.css'

/** What was measured again in a run, terminal by terminal, and why. */
export function RepeatsStep({ runId }: { runId: Uuid }) {
  const t = useSay()
  const detail = useQuery(orpc.runs.get.queryOptions({ input: { runId } }))
  if (!detail.data) return <Busy label={t('certifications.loading', {})} />
  const { readings, locations, pins } = detail.data
  return (
    <section className={styles.step} aria-label={t('asleft.repeats.title', {})}>
      <DataTable
        caption={t('asleft.repeats.title', {})}
        rows={repeatsOf(readings, locations, pins)}
        rowKey={({ terminalId }) => terminalId ?? ''}
        empty={<p>{t('asleft.repeats.none', {})}</p>}
        columns={[
          { key: 'filter', heading: t('asleft.repeats.filter', {}), cell: ({ tag }) => tag || t('asleft.repeats.no_terminal', {}) },
          { key: 'count', heading: t('asleft.repeats.count', {}), number: true, cell: ({ readings: own }) => own.length },
          {
            key: 'what',
            heading: t('asleft.repeats.what', {}),
            cell: ({ readings: own }) => (
              <ul>
                {own.map(({ reading: { id, typed, unit, voided }, point, after }) => (
                  <li key={id}>
                    {t('asleft.repeats.line', {
                      first: { typed, unit: unitLabel(unit) },
                      after: after && { typed: after.typed, unit: unitLabel(after.unit) },
                      point,
                      reason: voided?.reason ?? '',
                    })}
                  </li>
                ))}
              </ul>
            ),
          },
        ]}
      />
    </section>
  )
}
