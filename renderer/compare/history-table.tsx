import { Link } from 'wouter'
import type { History, HistoryPoint } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { useFormatter, useSay, useSentence } from '../app/session.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './compare.module.css'
import { changeBefore } from './history-series.ts'

type Line = { readonly point: HistoryPoint; readonly changePercent: number | null }

/** The same figures as the chart, newest first; each line leads to its readings. */
export function HistoryTable({ history, terminalId }: { history: History; terminalId: Uuid | null }) {
  const t = useSay()
  const sentence = useSentence()
  const formatter = useFormatter()
  const { dimension } = history
  const lines = history.points.map((point, index): Line => ({ point, changePercent: changeBefore(history.points, index) })).reverse()
  const columns: Column<Line>[] = [
    {
      key: 'run',
      heading: t('compare.history.column.run', {}),
      cell: ({ point }) => (
        <>
          <Link className={styles.unbroken} href={`/run/${point.runId}${terminalId ? `?terminal=${terminalId}` : ''}`}>
            {point.label}
          </Link>
          <p className={styles.soft}>{t('compare.why.phase', { phase: point.phase })}</p>
        </>
      ),
    },
    {
      key: 'value',
      heading: t('compare.history.column.value', {}),
      unit: formatter.unit(dimension),
      number: true,
      cell: ({ point }) => <strong>{formatter.number(point.value, dimension)}</strong>,
    },
    {
      key: 'uncertainty',
      heading: t('compare.history.column.uncertainty', {}),
      number: true,
      cell: ({ point }) => t('compare.history.uncertainty', { expanded: point.expandedUncertainty, of: { dimension } }),
    },
    {
      key: 'change',
      heading: t('compare.history.column.change', {}),
      number: true,
      cell: ({ changePercent }) => t('compare.percent', { value: changePercent }),
    },
    {
      key: 'limits',
      heading: t('compare.history.column.limits', {}),
      number: true,
      cell: ({ point }) => t('compare.history.limits', { low: point.low, high: point.high, of: { dimension } }),
    },
    { key: 'verdict', heading: t('compare.history.column.verdict', {}), cell: ({ point }) => <VerdictMark verdict={point.verdict} /> },
    {
      key: 'overall',
      heading: terminalId ? t('compare.history.column.overall_filter', {}) : t('compare.history.column.overall_room', {}),
      cell: ({ point }) => <VerdictMark verdict={point.overall} />,
    },
  ]
  const broken: Column<Line> = {
    key: 'broken',
    heading: t('compare.history.column.broken', {}),
    cell: ({ point }) => (
      <div className={styles.wrapped}>
        {point.broken.map((reason) => (
          <p key={reason.code}>{sentence(reason)}</p>
        ))}
      </div>
    ),
  }
  return (
    <DataTable
      caption={t('compare.history.picture', { label: history.label, points: history.points.length })}
      columns={history.points.some((point) => point.broken.length > 0) ? [...columns, broken] : columns}
      rows={lines}
      rowKey={({ point }) => point.runId}
    />
  )
}
