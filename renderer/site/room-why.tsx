import { Link } from 'wouter'
import { airChangesAsked } from '#core/criteria/limits-held.ts'
import type { RunSummary } from '#core/model/results.ts'
import { unitLabel } from '#core/units/units.ts'
import { useFormatter, useProject, useSay, useSentence } from '../app/session.tsx'
import { Why } from '../app/why.tsx'
import { Figure } from '../ui/figure.tsx'
import { MarginBar } from '../ui/margin-bar.tsx'
import { VerdictBar, VerdictMark } from '../ui/verdict-mark.tsx'
import type { RoomRow } from './room-rows.ts'
import styles from './site.module.css'

/** The selected room in the why-panel: verdict, reason, figures against their limit, and the runs behind it. */
export function RoomWhy({ row }: { row: RoomRow }) {
  const t = useSay()
  const sentence = useSentence()
  const format = useFormatter()
  const project = useProject()
  const { room, state, verdict } = row
  const required = room.body.requiredAirChangesPerHour
  const airChanges = state?.airChangesPerHour ?? null
  return (
    <Why title={`${room.body.number} ${room.body.name}`}>
      <p className={styles.faint}>
        {t('site.class', { cleanlinessClass: room.body.cleanlinessClass })}{' '}
        {sentence({ code: `site.state.${room.body.occupancyState}`, params: {} })}
      </p>
      {verdict ? <VerdictMark verdict={verdict} look="chip" /> : <p>{t('site.not_in_scope', {})}</p>}
      {state ? (
        <>
          <p>{sentence(state.headline)}</p>
          <VerdictBar counts={state.counts} label={t('site.why.criteria', {})} />
          <div className={styles.whyFigures}>
            <Figure
              label={t('site.column.air_changes', {})}
              value={format.number(airChanges, 'air_change_rate', { heldAgainst: airChangesAsked(room.body) })}
              unit={unitLabel('1/h')}
              note={required === null ? undefined : t('site.why.limit', { perHour: required })}
            />
            <Figure
              label={t('site.column.flow', {})}
              value={format.number(state.supplyFlowM3ps, 'flow')}
              unit={unitLabel(project.body.display.flow)}
            />
          </div>
          {state.figuresFrom && !state.figuresFrom.alone ? (
            <p>{t('certifications.room.figures_from', { method: state.figuresFrom.method })}</p>
          ) : null}
          {airChanges !== null && required !== null ? (
            <MarginBar
              value={airChanges}
              low={required}
              high={null}
              verdict={verdict ?? 'not_tested'}
              label={`${format.quantity(airChanges, 'air_change_rate')}, ${t('site.why.limit', { perHour: required })}`}
            />
          ) : null}
        </>
      ) : null}
      <section className={styles.whyPart}>
        <h3>{t('site.why.runs', {})}</h3>
        {state?.runs.length ? (
          <ul>
            {state.runs.map((run) => (
              <RunLine key={run.runId} run={run} />
            ))}
          </ul>
        ) : (
          <p className={styles.faint}>{t('site.why.no_runs', {})}</p>
        )}
      </section>
      <p className={styles.whyLinks}>
        <Link href={`/room/${room.id}`}>{t('site.why.map', {})}</Link>
        <Link href={`/history/${room.id}`}>{t('site.why.history', {})}</Link>
        <Link href={`/audit?about=${room.id}`}>{t('site.why.trail', {})}</Link>
      </p>
    </Why>
  )
}

function RunLine({ run }: { run: RunSummary }) {
  const t = useSay()
  const sentence = useSentence()
  return (
    <li>
      <Link href={`/run/${run.runId}`} className={styles.run} data-current={run.current ? '' : undefined}>
        <VerdictMark verdict={run.verdict} />
        <span>{run.phase === 'as_found' ? t('site.why.as_found', {}) : t('site.why.as_left', {})}</span>
        <span className={styles.faint}>
          {sentence({ code: `site.why.run_state.${run.state}`, params: {} })} ·{' '}
          {t('site.why.points', { measured: run.pointsMeasured, planned: run.pointsPlanned })}
        </span>
      </Link>
    </li>
  )
}
