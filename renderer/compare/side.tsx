import { Link } from 'wouter'
import type { Verdict } from '#core/model/criteria.ts'
import type { ComparisonRow } from '#core/model/results.ts'
import { useFailureText, useFormatter, useSay, useSentence } from '../app/session.tsx'
import { FaceFigure } from '../rooms/map/face-figure.tsx'
import { Busy } from '../ui/busy.tsx'
import { Figure } from '../ui/figure.tsx'
import { Facts } from '../ui/panel.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import styles from './compare.module.css'
import { PlanPicture } from './plan-picture.tsx'
import type { AsFound, SideEvidence, useSideEvidence } from './side-evidence.ts'

type SideProps = {
  title: string
  value: number | null
  verdict: Verdict
  row: ComparisonRow
  side: ReturnType<typeof useSideEvidence>
}

const PICTURE_PX = 138

/** One visit of a comparison: the figure, its picture, and who measured with what by which criteria. */
export function Side({ title, value, verdict, row, side }: SideProps) {
  const t = useSay()
  const failureText = useFailureText()
  const formatter = useFormatter()
  return (
    <section className={styles.side} aria-label={title}>
      <h3>{title}</h3>
      <Figure size="large" value={formatter.number(value, row.dimension)} unit={formatter.unit(row.dimension)} />
      <VerdictMark verdict={verdict} />
      {side.error ? <p role="alert">{failureText(side.error)}</p> : null}
      {side.waiting ? <Busy label={t('app.loading', {})} /> : null}
      {side.evidence ? <Evidence row={row} evidence={side.evidence} title={title} verdict={verdict} /> : null}
      {!side.evidence && !side.waiting && !side.error ? <p className={styles.soft}>{t('compare.why.not_measured', {})}</p> : null}
    </section>
  )
}

/** What was found before the run as left, so that a failure is not lost behind its repair. */
function BeforeIt({ row, asFound }: { row: ComparisonRow; asFound: AsFound }) {
  const t = useSay()
  const sentence = useSentence()
  const formatter = useFormatter()
  const { runId, verdict, value, headline } = asFound
  return (
    <div className={styles.asFound}>
      <p className={styles.soft}>{t('compare.why.as_found_before', {})}</p>
      <Figure size="body" value={formatter.number(value, row.dimension)} unit={formatter.unit(row.dimension)} />
      <VerdictMark verdict={verdict} />
      {headline ? <p>{sentence(headline)}</p> : null}
      <Link href={`/run/${runId}${row.kind === 'filter' ? `?terminal=${row.id}` : ''}`}>{t('compare.why.readings', {})}</Link>
    </div>
  )
}

type EvidenceProps = { row: ComparisonRow; evidence: SideEvidence; title: string; verdict: Verdict }

function Evidence({ row, evidence, title, verdict }: EvidenceProps) {
  const t = useSay()
  const formatter = useFormatter()
  const { run, filter, terminal, terminals, room, locations, people, instruments, days, criteriaSet } = evidence
  const measured =
    row.kind === 'filter'
      ? [
          [t('compare.why.spread', {}), formatter.quantity(filter?.relativeStandardDeviationPercent ?? null, 'percent')],
          [t('compare.why.flow', {}), formatter.quantity(filter?.flowM3ps ?? null, 'flow')],
          [
            t('compare.why.points', {}),
            t('compare.why.points_of', { measured: filter?.pointsMeasured ?? 0, planned: filter?.pointsPlanned ?? 0 }),
          ],
        ]
      : [
          [t('compare.why.supply', {}), formatter.quantity(run.room.supplyFlowM3ps, 'flow')],
          [t('compare.why.volume', {}), formatter.quantity(run.room.volumeM3, 'volume')],
        ]
  const facts: (readonly [string, string])[] = [
    ...measured.map(([name, text]) => [name ?? '', text ?? ''] as const),
    [t('compare.why.measured_by', {}), people.join(', ')],
    [t('compare.why.measured_with', {}), instruments.join(', ')],
    [t('compare.why.measured_on', {}), days.map((day) => formatter.date(day)).join(', ')],
    [
      t('compare.why.criteria', {}),
      criteriaSet
        ? t('compare.why.criteria_revision', { name: criteriaSet.body.name, revision: criteriaSet.revision })
        : t('compare.why.no_criteria', {}),
    ],
  ]
  return (
    <>
      <p className={styles.soft}>{t('compare.why.phase', { phase: run.phase })}</p>
      {row.kind === 'filter' && terminal ? (
        <FaceFigure terminal={terminal} locations={locations} result={filter} verdict={verdict} most={PICTURE_PX} />
      ) : null}
      {row.kind === 'room' && room ? <PlanPicture room={room} terminals={terminals} run={run} most={PICTURE_PX} visit={title} /> : null}
      <Facts facts={facts} />
      <Link href={`/run/${run.runId}${row.kind === 'filter' ? `?terminal=${row.id}` : ''}`}>{t('compare.why.readings', {})}</Link>
      <Link href={`/audit?about=${run.runId}`}>{t('compare.why.run_trail', {})}</Link>
      {evidence.asFound ? <BeforeIt row={row} asFound={evidence.asFound} /> : null}
    </>
  )
}
