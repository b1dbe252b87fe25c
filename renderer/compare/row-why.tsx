import { useQuery } from '@tanstack/react-query'
import { Link } from 'wouter'
import type { ComparisonRow } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useFormatter, useSay, useSentence, useSession } from '../app/session.tsx'
import { Why } from '../app/why.tsx'
import { CriterionList } from '../rooms/map/criterion-list.tsx'
import { HistoryLine } from '../rooms/map/history-line.tsx'
import { Figure } from '../ui/figure.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './compare.module.css'
import { Side } from './side.tsx'
import { type SideEvidence, useSideEvidence } from './side-evidence.ts'

type RowWhyProps = { row: ComparisonRow; thenId: Uuid; nowId: Uuid }

/** The evidence of one row: then and now side by side, what was not the same, the criteria, the years before, and the way to each reading. */
export function RowWhy({ row, thenId, nowId }: RowWhyProps) {
  const t = useSay()
  const sentence = useSentence()
  const formatter = useFormatter()
  const { certifications } = useSession()
  const history = useQuery(orpc.compare.history.queryOptions({ input: { subjectId: row.id, quantity: row.quantity } }))
  const then = useSideEvidence(row, thenId)
  const now = useSideEvidence(row, nowId)
  const nameOf = (id: Uuid) => certifications.find((candidate) => candidate.id === id)?.body.name ?? ''
  return (
    <Why title={row.label}>
      <div className={styles.whyHead}>
        <VerdictMark verdict={row.verdictNow} look="chip" />
        <Figure
          size="large"
          value={t('compare.percent', { value: row.figure.changePercent })}
          unit="%"
          note={`${t('compare.change', { figure: { value: row.figure.change, dimension: row.dimension } })} ${formatter.unit(row.dimension)}`}
        />
      </div>
      {row.reasonNow ? <p>{sentence(row.reasonNow)}</p> : null}
      {row.breaks.length > 0 || row.differsFromSigned ? (
        <section>
          <h3>{t('compare.why.breaks', {})}</h3>
          <ul className={styles.bullets}>
            {row.breaks.map((reason) => (
              <li key={reason.code}>{sentence(reason)}</li>
            ))}
            {row.differsFromSigned ? <li>{t('compare.signed_differs', {})}</li> : null}
          </ul>
        </section>
      ) : null}
      <div className={styles.sides}>
        <Side title={nameOf(thenId)} value={row.figure.earlier} verdict={row.verdictThen} row={row} side={then} />
        <Side title={nameOf(nowId)} value={row.figure.later} verdict={row.verdictNow} row={row} side={now} />
      </div>
      {now.evidence ? <CriterionList criteria={criteriaOf(row, now.evidence)} /> : null}
      {history.data && history.data.points.length > 0 ? (
        <HistoryLine history={history.data} nowRunId={now.evidence?.run.runId ?? null} />
      ) : null}
      <p className={styles.links}>
        <Link href={`/room/${row.roomId}${row.kind === 'filter' ? `?select=${row.id}` : ''}`}>{t('compare.why.map', {})}</Link>
        <Link href={`/audit?about=${row.id}`}>{t('compare.why.trail', {})}</Link>
      </p>
    </Why>
  )
}

function criteriaOf(row: ComparisonRow, { run, filter }: SideEvidence) {
  if (row.kind === 'filter') return filter?.criteria ?? []
  return [...run.roomCriteria, ...run.zones.flatMap((zone) => zone.criteria)]
}
