import { useQuery } from '@tanstack/react-query'
import { Link } from 'wouter'
import { limitsHeld } from '#core/criteria/limits-held.ts'
import type { Entity } from '#core/model/entities.ts'
import type { RunResult, ZoneResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { roomVolumeM3 } from '#core/rooms/geometry.ts'
import { orpc } from '#renderer/app/client.ts'
import { useFormatter, useSay, useSentence } from '#renderer/app/session.tsx'
import { Why } from '#renderer/app/why.tsx'
import { BudgetButton } from '#renderer/budgets/budget-button.tsx'
import { Facts } from '#renderer/ui/panel.tsx'
import { VerdictMark } from '#renderer/ui/verdict-mark.tsx'
import { WhatIfButton } from '#renderer/what-if/what-if-button.tsx'
import { cellCounts } from '../plan/plane-cells.ts'
import { CriterionList } from './criterion-list.tsx'
import { HistoryLine } from './history-line.tsx'
import styles from './why.module.css'
import { WhyBalance } from './why-balance.tsx'

type WhyRoomProps = { room: Entity<'room'>; run: RunResult | null; failedAsFound: boolean; onFilter: (id: string) => void }

/** Why the room reads as it does: its criteria, the filters that fail, what it was before. */
export function WhyRoom({ room, run, failedAsFound, onFilter }: WhyRoomProps) {
  const t = useSay()
  const sentence = useSentence()
  const formatter = useFormatter()
  const quantity = room.body.airflowType === 'unidirectional' ? 'face_velocity' : 'air_changes'
  const history = useQuery(orpc.compare.history.queryOptions({ input: { subjectId: room.id, quantity } }))
  const failing = run?.filters.filter((filter) => filter.verdict === 'fail' || filter.verdict === 'not_valid') ?? []
  return (
    <Why title={t('map.room.title', { number: room.body.number, name: room.body.name })}>
      <div className={styles.head}>
        <VerdictMark verdict={run?.verdict ?? 'not_tested'} look="chip" />
        {run ? (
          <Link href={`/run/${run.runId}`} className={styles.open}>
            {t('map.why.open_readings', {})}
          </Link>
        ) : null}
      </div>
      {run ? <p>{sentence(run.headline)}</p> : <p>{t('map.figures.no_run', {})}</p>}
      {failedAsFound ? <p>{t('map.why.failed_as_found', {})}</p> : null}
      {failing.length > 0 ? (
        <ul className={styles.failing} aria-label={t('map.why.failing', {})}>
          {failing.map((filter) => (
            <li key={filter.terminalId}>
              <button type="button" onClick={() => onFilter(filter.terminalId)}>
                <VerdictMark verdict={filter.verdict} look="shape" />
                <span>{filter.tag}</span>
                <span className={styles.right}>
                  {filter.meanVelocityMps === null
                    ? formatter.quantity(filter.flowM3ps, 'flow', { heldAgainst: limitsHeld(filter.criteria, 'flow') })
                    : formatter.quantity(filter.meanVelocityMps, 'velocity', { heldAgainst: limitsHeld(filter.criteria, 'face_velocity') })}
                </span>
              </button>
            </li>
          ))}
        </ul>
      ) : null}
      {run ? <CriterionList criteria={run.roomCriteria} /> : null}
      {run ? <WhyBalance run={run} /> : null}
      {run ? (
        <div>
          <WhatIfButton runId={run.runId} room={room.body.number} />
        </div>
      ) : null}
      {history.data && history.data.points.length > 0 ? <HistoryLine history={history.data} nowRunId={run?.runId ?? null} /> : null}
      <Facts
        facts={[
          [
            t('map.prop.class', {}),
            t('map.class', { of: { cleanlinessClass: room.body.cleanlinessClass, state: room.body.occupancyState } }),
          ],
          [t('map.prop.airflow', {}), t('map.airflow', { of: { airflow: room.body.airflowType } })],
          [t('map.prop.ceiling', {}), formatter.quantity(room.body.ceilingHeight.si, 'length')],
          [t('map.prop.volume', {}), formatter.quantity(roomVolumeM3(room.body), 'volume')],
          ...(room.body.statedVolume ? [[t('map.prop.volume_reason', {}), room.body.statedVolume.reason] as const] : []),
        ]}
      />
    </Why>
  )
}

/** The cells of a measuring plane that lie outside the limits for points, by number. */
function OutsideCells({ result }: { result: ZoneResult }) {
  const t = useSay()
  const outside = result.planeCells.filter(({ within }) => within === false)
  if (outside.length === 0) return null
  return (
    <ul className={styles.lines} aria-label={t('plane.outside_list', {})}>
      {outside.map(({ point, meanMps }) => (meanMps === null ? null : <li key={point}>{t('plane.outside_line', { point, meanMps })}</li>))}
    </ul>
  )
}

/** Why a unidirectional zone reads as it does. */
export function WhyZone({ zone, result, runId }: { zone: Entity<'zone'>; result: ZoneResult | null; runId: Uuid | null }) {
  const t = useSay()
  const formatter = useFormatter()
  return (
    <Why title={zone.body.name}>
      <VerdictMark verdict={result?.verdict ?? 'not_tested'} look="chip" />
      {result ? (
        <Facts
          facts={[
            [
              t('map.figure.mean', {}),
              <span key="mean">
                {formatter.quantity(result.meanVelocityMps, 'velocity', { heldAgainst: limitsHeld(result.criteria, 'face_velocity') })}{' '}
                {runId ? (
                  <BudgetButton
                    runId={runId}
                    subjectId={zone.id}
                    subject={zone.body.name}
                    figure="mean_velocity"
                    dimension="velocity"
                    uncertainty={result.uncertainty}
                  />
                ) : null}
              </span>,
            ],
            [t('map.figure.spread', {}), formatter.quantity(result.relativeStandardDeviationPercent, 'percent')],
            [t('map.why.largest_deviation', {}), formatter.quantity(result.largestDeviationPercent, 'percent')],
            ...(result.closedFaces === 0
              ? []
              : [[t('map.why.closed_faces', {}), t('map.why.closed_faces.of', { n: result.closedFaces })] as const]),
            [t('map.why.percent_of_design', {}), formatter.quantity(result.percentOfDesign, 'percent')],
            [t('map.why.points', {}), t('map.why.points.of', { n: result.pointsMeasured, of: result.pointsPlanned })],
            ...(result.planeCells.length > 0
              ? [
                  [
                    t('plane.within', {}),
                    t('plane.within_value', { percent: result.pointsWithinPercent, outside: cellCounts(result.planeCells).outside }),
                  ] as const,
                ]
              : result.pointsWithinPercent === null
                ? []
                : [[t('plane.within', {}), formatter.quantity(result.pointsWithinPercent, 'percent')] as const]),
          ]}
        />
      ) : null}
      {result ? <OutsideCells result={result} /> : null}
      {result ? <CriterionList criteria={result.criteria} /> : null}
      <Facts
        facts={[
          [
            t('map.prop.class', {}),
            t('map.class', { of: { cleanlinessClass: zone.body.cleanlinessClass, state: zone.body.occupancyState } }),
          ],
        ]}
      />
    </Why>
  )
}
