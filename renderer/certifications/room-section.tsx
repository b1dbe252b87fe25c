import { useState } from 'react'
import { Link } from 'wouter'
import { airChangesAsked } from '#core/criteria/limits-held.ts'
import type { Entity } from '#core/model/entities.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { Uuid } from '#core/model/values.ts'
import { useCanChange, useFormatter, useSay, useSentence } from '../app/session.tsx'
import { BudgetLink } from '../budgets/budget-button.tsx'
import { Button } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { VerdictMark } from '../ui/verdict-mark.tsx'
import { WhatIfButton } from '../what-if/what-if-button.tsx'
import styles from './certifications.module.css'
import { RoomAir } from './room-air.tsx'
import type { RoomLine } from './room-lines.ts'
import { RunLine } from './run-line.tsx'
import { StartRun } from './start-run.tsx'

type RoomSectionProps = {
  certificationId: Uuid
  line: RoomLine
  runs: readonly Entity<'run'>[]
  runsBefore: readonly Entity<'run'>[]
  places: readonly Entity[]
  /** filters of the room in this visit */
  filters: number
}

/** One room of the visit: where it stands and why, its runs, and the next step. */
export function RoomSection({ certificationId, line, runs, runsBefore, places, filters }: RoomSectionProps) {
  const t = useSay()
  const f = useFormatter()
  const sentence = useSentence()
  const canChange = useCanChange()
  const [starting, setStarting] = useState(false)
  const { room, state } = line
  const ownRuns = runs.filter((run) => run.body.roomId === room.id)
  const current = state.figuresFrom
  const retested = state.failedAsFound
  const ofAllAir = state.runs.some((run) => run.current && ownRuns.find(({ id }) => id === run.runId)?.body.method === 'room_airflow')
  return (
    <section className={styles.room} aria-label={t('certifications.room.runs', { room: room.body.number })}>
      <header className={styles.roomHead}>
        <VerdictMark verdict={state.verdict} look="shape" className={styles.roomVerdict} />
        <div className={styles.roomName}>
          <Link href={`/room/${room.id}`} className={styles.roomLink}>
            <strong>{room.body.number}</strong> {room.body.name}
          </Link>
          <span className={styles.headline}>{sentence(state.headline)}</span>
          {retested ? (
            <span className={styles.retested}>
              <Icon name="replaced" size={14} />
              {state.verdict === 'pass' ? t('certifications.room.failed_as_found', {}) : t('certifications.room.retested', {})}
            </span>
          ) : null}
        </div>
        <span className={styles.figures}>
          {state.airChangesPerHour !== null ? (
            <span className={styles.figure}>
              <strong>{f.quantity(state.airChangesPerHour, 'air_change_rate', { heldAgainst: airChangesAsked(room.body) })}</strong>
              <span>{t('certifications.room.air_changes', {})}</span>
              {current ? <BudgetLink runId={current.runId} subjectId={room.id} subject={room.body.number} figure="air_changes" /> : null}
            </span>
          ) : null}
          <span className={styles.headline}>
            {t(ofAllAir ? 'ways.room.terminals' : 'certifications.room.filters', { measured: state.filtersMeasured, planned: filters })}
            {current && !current.alone ? `, ${t('certifications.room.figures_from', { method: current.method })}` : null}
          </span>
        </span>
        {current ? <WhatIfButton large runId={current.runId} room={room.body.number} /> : null}
        <Button large icon="run" pressed={starting} disabled={!canChange} onClick={() => setStarting(!starting)}>
          {ownRuns.length === 0 ? t('certifications.room.start', {}) : t('certifications.room.start_again', {})}
        </Button>
      </header>
      {starting ? (
        <StartRun
          certificationId={certificationId}
          room={room}
          here={ownRuns}
          before={runsBefore}
          places={places}
          onClose={() => setStarting(false)}
        />
      ) : null}
      {state.runs
        .filter(({ current: counts, runId }) => counts && tellsAir(ownRuns.find((run) => run.id === runId)?.body.method))
        .map(({ runId, zoneId }) => (
          <RoomAir key={runId} runId={runId} room={room.body.number} zone={zoneName(places, zoneId)} />
        ))}
      {state.runs.length > 0 ? (
        <ul className={styles.runs}>
          {state.runs.map((summary) => {
            const run = ownRuns.find((candidate) => candidate.id === summary.runId)
            return run ? (
              <RunLine
                key={run.id}
                alone={state.runs.length === 1}
                run={run}
                here={ownRuns}
                summary={summary}
                room={room}
                zoneName={zoneName(places, summary.zoneId)}
              />
            ) : null
          })}
        </ul>
      ) : null}
    </section>
  )
}

/** Runs over the faces of filters say everything in the head of the room. */
function tellsAir(method: MethodId | undefined): boolean {
  return method === 'room_airflow' || method === 'plane_velocity_grid'
}

function zoneName(places: readonly Entity[], zoneId: string | null): string | null {
  const zone = places.find((place) => place.id === zoneId)
  return zone?.kind === 'zone' ? zone.body.name : null
}
