import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { Link } from 'wouter'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { Gone } from '../app/gone.tsx'
import { useFailureText, usePerson, useSay } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { ScreenHead } from '../ui/panel.tsx'
import { BeforeFirst, hasReadCautions } from './before-first.tsx'
import styles from './bench.module.css'
import { Bench } from './bench.tsx'
import { quantitiesOf } from './run-plan.ts'
import { type OpenRun, useRunDesk } from './use-run-desk.ts'

/** The technician's screen: one run, its filters and their points. */
export function RunScreen({ runId }: { runId: Uuid }) {
  const t = useSay()
  const failureText = useFailureText()
  const { open, problem } = useRunDesk(runId)
  if (problem) return <Gone icon="warn" title={failureText(problem)} />
  if (!open) return <Busy label={t('readings.loading', {})} />
  if (open.plan.filters.length === 0) {
    return (
      <EmptyState
        icon="filter"
        title={t('readings.no_filters', {})}
        action={<Link href={`/room/${open.plan.room.id}`}>{t('readings.to_map', {})}</Link>}
      >
        {t('readings.no_filters_hint', {})}
      </EmptyState>
    )
  }
  return <OpenRunScreen open={open} />
}

function OpenRunScreen({ open }: { open: OpenRun }) {
  const t = useSay()
  const person = usePerson()
  // Ready is a matter of the person: another one who takes over reads the cautions first.
  const [readyFor, setReadyFor] = useState<Uuid | null>(null)
  const [choosing, setChoosing] = useState(false)
  const { plan, hand } = open
  const facilities = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['facility', 'room'], within: null } }))
  const room = facilities.data?.find((entity) => entity.id === plan.room.id)
  const facility = facilities.data?.find((entity) => entity.id === room?.parentId)
  const north = facility?.kind === 'facility' ? facility.body.northDegrees : 0
  const altitudeM = facility?.kind === 'facility' ? facility.body.altitudeM : null

  const prepared = person !== null && quantitiesOf(plan).every((quantity) => hand.of(quantity) !== null) && hasReadCautions(plan, person.id)
  const looksOnly = plan.run.body.state !== 'open'
  const ready = person !== null && readyFor === person.id
  if (!ready && (!prepared || choosing) && !looksOnly) {
    if (!hand.loaded) return <Busy label={t('readings.loading', {})} />
    return (
      <>
        <ScreenHead
          title={t('readings.before.title', {})}
          about={t('readings.title', { room: plan.room.body.number, phase: plan.run.body.phase })}
        />
        <BeforeFirst
          open={open}
          altitudeM={altitudeM}
          onChoose={() => setChoosing(true)}
          onReady={() => {
            setReadyFor(person?.id ?? null)
            setChoosing(false)
          }}
        />
      </>
    )
  }
  return (
    <div className={styles.place}>
      <Bench open={open} facilityNorthDegrees={north} altitudeM={altitudeM} />
    </div>
  )
}
