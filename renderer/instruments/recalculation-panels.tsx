import { useQuery } from '@tanstack/react-query'
import { Link } from 'wouter'
import type { DoubtOfCertificate, KeyFigures, RecalculatedRun } from '#core/api/recalculation.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useFailureText, useFormatter, useSay } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { Panel } from '../ui/panel.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './instruments.module.css'

/** What it means that the instrument was found out of tolerance: every run it touched, as it stands and otherwise counted. */
export function RecalculationPanels({ instrumentId }: { instrumentId: Uuid }) {
  const t = useSay()
  const failureText = useFailureText()
  const query = useQuery(orpc.recalculation.preview.queryOptions({ input: { instrumentId } }))
  if (query.error) return <p role="alert">{failureText(query.error)}</p>
  if (!query.data) return <Busy label={t('app.loading', {})} />
  return query.data.map((doubt) => <DoubtPanel key={doubt.calibrationId} doubt={doubt} />)
}

function DoubtPanel({ doubt }: { doubt: DoubtOfCertificate }) {
  const t = useSay()
  const columns = useColumns()
  const { certificateNumber, from, to, deviation, points, runs } = doubt
  const title = t('recalculation.title', { certificate: certificateNumber })
  return (
    <Panel title={title} flush>
      <div className={styles.doubt}>
        <p>{t('recalculation.about', { from, to, runs: runs.length })}</p>
        {deviation ? <p>{t('recalculation.deviation', { number: deviation })}</p> : null}
        <p className={styles.faint}>{t('recalculation.points', { points })}</p>
        <p className={styles.faint}>{t('recalculation.nothing_rewritten', {})}</p>
      </div>
      <DataTable
        caption={title}
        columns={columns}
        rows={runs}
        rowKey={({ runId }) => runId}
        empty={<p className={styles.empty}>{t('recalculation.none', {})}</p>}
      />
    </Panel>
  )
}

function useColumns(): Column<RecalculatedRun>[] {
  const t = useSay()
  const variant = (key: 'stands' | 'corrected' | 'without', heading: string): Column<RecalculatedRun> => ({
    key,
    heading,
    cell: (run) => {
      const figures = run[key]
      return figures ? <Figures figures={figures} changed={isAnotherVerdict(run.stands, figures)} /> : t('recalculation.not_corrected', {})
    },
  })
  return [
    {
      key: 'run',
      heading: t('recalculation.run', {}),
      sortBy: ({ room }) => room,
      cell: ({ runId, certification, room, phase, state }) => (
        <>
          <Link href={`/run/${runId}`}>{t('recalculation.run_name', { certification, room, of: { phase } })}</Link>
          <p className={styles.faint}>{t('recalculation.state', { of: { state } })}</p>
        </>
      ),
    },
    {
      key: 'readings',
      heading: t('recalculation.readings', {}),
      sortBy: ({ readings }) => readings,
      cell: ({ readings, ofReadings }) => t('recalculation.readings_of', { n: readings, of: ofReadings }),
    },
    variant('stands', t('recalculation.stands', {})),
    variant('corrected', t('recalculation.corrected', {})),
    variant('without', t('recalculation.without', {})),
  ]
}

/** Without readings most runs are not tested any more: that says nothing new. */
function isAnotherVerdict(stands: KeyFigures, otherwise: KeyFigures): boolean {
  return otherwise.verdict !== stands.verdict && otherwise.verdict !== 'not_tested'
}

function Figures({ figures, changed }: { figures: KeyFigures; changed: boolean }) {
  const t = useSay()
  const f = useFormatter()
  return (
    <div className={styles.list}>
      <VerdictMark verdict={figures.verdict} />
      {changed ? <strong>{t('recalculation.changed', {})}</strong> : null}
      {figures.meanVelocityMps === null ? null : <span>{f.quantity(figures.meanVelocityMps, 'velocity')}</span>}
      {figures.airChangesPerHour === null ? null : <span>{f.quantity(figures.airChangesPerHour, 'air_change_rate')}</span>}
    </div>
  )
}
