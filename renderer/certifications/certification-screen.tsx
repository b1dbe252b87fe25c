import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { useEffect, useMemo, useState } from 'react'
import { Link } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { Gone } from '../app/gone.tsx'
import { useFailureText, useSay, useSession } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { Busy } from '../ui/busy.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { ScreenHead } from '../ui/panel.tsx'
import { Segmented } from '../ui/segmented.tsx'
import styles from './certifications.module.css'
import { filtersPlanned, progressOf, roomLines, type Show } from './room-lines.ts'
import { RoomSection } from './room-section.tsx'
import { VisitSummary } from './visit-summary.tsx'

const SHOWN: readonly Show[] = ['all', 'to_do', 'failing', 'done']

/** What is done, what is missing and what fails in one visit, room by room, and the way to the next step of each. */
export function CertificationScreen({ certificationId }: { certificationId: Uuid }) {
  useNoWhy()
  const t = useSay()
  const failureText = useFailureText()
  const { certifications, showCertification } = useSession()
  const certification = certifications.find((candidate) => candidate.id === certificationId) ?? null
  const previousId = certification?.body.previousId ?? null
  const state = useQuery(orpc.evaluation.certification.queryOptions({ input: { certificationId }, placeholderData: keepPreviousData }))
  const runs = useQuery(orpc.runs.list.queryOptions({ input: { certificationId } }))
  const before = useQuery(
    orpc.runs.list.queryOptions({ input: { certificationId: previousId ?? certificationId }, enabled: previousId !== null }),
  )
  const places = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['facility', 'room', 'zone', 'criteria_set'], within: null } }))
  const remaining = useQuery(orpc.certifications.remaining.queryOptions({ input: { certificationId }, placeholderData: keepPreviousData }))
  const [show, setShow] = useState<Show>('all')
  // Coming here by a link means that the window now speaks of this visit.
  useEffect(() => showCertification(certificationId), [certificationId, showCertification])

  const rooms = useMemo(() => (places.data ?? []).filter((entity): entity is Entity<'room'> => entity.kind === 'room'), [places.data])
  const runList = useMemo(() => (runs.data ?? []).filter((entity): entity is Entity<'run'> => entity.kind === 'run'), [runs.data])
  const runsBefore = useMemo(() => (before.data ?? []).filter((entity): entity is Entity<'run'> => entity.kind === 'run'), [before.data])

  const problem = state.error ?? runs.error ?? places.error
  if (problem) return <Gone icon="warn" title={failureText(problem)} />
  if (!state.data || !runs.data || !places.data) return <Busy label={t('certifications.loading', {})} />
  if (!certification) return <Gone title={t('certifications.not_here', {})} />
  const { body } = certification
  const progress = progressOf(state.data, remaining.data?.rooms ?? [])
  const counts: Record<Show, number> = {
    all: progress.rooms,
    to_do: progress.rooms - progress.done,
    failing: progress.failing,
    done: progress.done,
  }
  const lines = roomLines(state.data, rooms, show)
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={body.name}
        about={t('certifications.about', {
          from: body.startsOn,
          to: body.endsOn,
          purpose: t(`certifications.purpose.${body.purpose}`, {}),
        })}
        actions={
          <>
            <Link href={`/import?certification=${certificationId}`}>{t('import.title', {})}</Link>
            <Link href={`/balance/${certificationId}`}>{t('app.nav.balance', {})}</Link>
            {previousId ? <Link href="/compare">{t('certifications.compare', {})}</Link> : null}
          </>
        }
      />
      <VisitSummary state={state.data} progress={progress} remaining={remaining.data ?? null} />
      {state.data.rooms.length === 0 ? (
        <EmptyState
          icon="room"
          title={t('certifications.no_rooms', {})}
          action={<Link href="/plan">{t('certifications.to_plan', {})}</Link>}
        >
          {t('certifications.no_rooms_hint', {})}
        </EmptyState>
      ) : (
        <Segmented
          label={t('certifications.show', {})}
          value={show}
          choices={SHOWN.map((value) => ({ value, label: t(`certifications.show.${value}`, { count: counts[value] }) }))}
          onChange={setShow}
        />
      )}
      {lines.length === 0 && state.data.rooms.length > 0 ? <p className={styles.quiet}>{t('certifications.show.none', {})}</p> : null}
      <div className={styles.rooms}>
        {lines.map((line) => (
          <RoomSection
            key={line.room.id}
            certificationId={certificationId}
            line={line}
            runs={runList}
            runsBefore={runsBefore}
            places={places.data}
            filters={filtersPlanned(line.state, remaining.data?.rooms ?? [])}
          />
        ))}
      </div>
    </div>
  )
}
