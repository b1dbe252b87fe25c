import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import { useLocation } from 'wouter'
import { AT_THE_FACE, AVERAGING_S, leastAveragingToday } from '#core/methods/airflow/averaging.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import type { CertificationState } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { daysBetween } from '#core/planning/dates.ts'
import { latestCertification } from '../app/certification-shown.ts'
import { api, orpc } from '../app/client.ts'
import { newCommand, newId, useSay, useSession } from '../app/session.tsx'
import { type FieldProblem, type FormState, useForm } from '../forms/use-form.ts'
import { useToday } from '../instruments/use-instruments.ts'
import { useToast } from '../ui/toast.tsx'
import { proposedDates, proposedName } from './plan-dates.ts'

export type PlanForm = Pick<EntityBody<'certification'>, 'name' | 'startsOn' | 'endsOn' | 'purpose' | 'why'> & {
  previousId: Uuid | null
  roomIds: readonly Uuid[]
  people: string
}

export type Due = { readonly on: string; readonly days: number }

export type SitePlan = {
  readonly facilities: readonly Entity<'facility'>[]
  readonly rooms: readonly Entity<'room'>[]
  readonly zones: readonly Entity<'zone'>[]
  readonly terminals: readonly Entity<'terminal'>[]
  readonly doors: readonly Entity<'door'>[]
  /** what the criteria of a room ask for at each point, s */
  readonly averagingTimeS: (roomId: Uuid) => number
  /** the visit it may start from, and how it went */
  readonly latest: Entity<'certification'> | null
  readonly state: CertificationState | null
  readonly due: Due | null
}

const byName = new Intl.Collator(undefined, { numeric: true })

/** Everything the plan looks at; null until it is there. */
export function useSitePlan(): { site: SitePlan | null; error: unknown } {
  const { certifications } = useSession()
  const today = useToday()
  const latest = latestCertification(certifications)
  const entities = useQuery(
    orpc.entities.list.queryOptions({ input: { kinds: ['facility', 'room', 'zone', 'terminal', 'door', 'criteria_set'], within: null } }),
  )
  const overview = useQuery(orpc.evaluation.overview.queryOptions({ input: { certificationId: null } }))
  const site = useMemo(() => {
    const places = entities.data
    if (!places || !overview.data) return null
    const on = overview.data.notices.find((notice) => notice.kind === 'due')?.sentence.params.on
    const rooms = places.filter((entity) => entity.kind === 'room')
    return {
      facilities: places.filter((entity) => entity.kind === 'facility'),
      rooms: rooms.sort((a, b) => byName.compare(a.body.number, b.body.number)),
      zones: places.filter((entity) => entity.kind === 'zone'),
      terminals: places.filter((entity) => entity.kind === 'terminal'),
      doors: places.filter((entity) => entity.kind === 'door'),
      averagingTimeS: (roomId: Uuid) => {
        const room = rooms.find(({ id }) => id === roomId)
        return room ? leastAveragingToday(places, room, AT_THE_FACE) : AVERAGING_S.otherwise
      },
      latest,
      state: overview.data.state,
      due: typeof on === 'string' ? { on, days: daysBetween(today, on) } : null,
    }
  }, [entities.data, overview.data, latest, today])
  return { site, error: entities.error ?? overview.error }
}

/** Rooms that carry over: those of the earlier visit that are still in use; without one all in use. */
export function carriedRooms(rooms: readonly Entity<'room'>[], previous: Entity<'certification'> | null): Uuid[] {
  const before = previous ? new Set(previous.body.roomIds) : null
  return rooms.filter((room) => room.body.inUse && (before === null || before.has(room.id))).map((room) => room.id)
}

function planProblems(form: PlanForm): FieldProblem[] {
  const problems: FieldProblem[] = []
  const ask = (field: string, isThere: boolean, code = 'plan.problem.missing') => {
    if (!isThere) problems.push({ field, code, params: {} })
  }
  ask('name', form.name.trim() !== '')
  ask('startsOn', form.startsOn !== '')
  ask('endsOn', form.endsOn !== '')
  ask('roomIds', form.roomIds.length > 0, 'plan.problem.no_rooms')
  const { startsOn, endsOn } = form
  if (startsOn !== '' && endsOn !== '' && endsOn < startsOn) {
    problems.push({ field: 'endsOn', code: 'rule.ends_before_starts', params: { startsOn, endsOn } })
  }
  return problems
}

export function usePlanForm(site: SitePlan): FormState<PlanForm> {
  const t = useSay()
  const toast = useToast()
  const today = useToday()
  const [, go] = useLocation()
  const { showCertification } = useSession()
  const { latest, due, rooms } = site
  const start = useMemo((): PlanForm => {
    const dates = latest && due ? proposedDates(latest.body, due.on, today) : null
    const startsOn = dates?.startsOn ?? ''
    return {
      previousId: latest?.id ?? null,
      name: (latest && proposedName(latest.body, startsOn)) ?? t('plan.name_proposed', { year: (startsOn || today).slice(0, 4) }),
      startsOn,
      endsOn: dates?.endsOn ?? '',
      purpose: latest ? 'periodic' : 'initial',
      why: '',
      roomIds: carriedRooms(rooms, latest),
      people: '2',
    }
  }, [latest, due, rooms, today, t])
  return useForm({
    key: `plan after ${latest?.id ?? 'nothing'}`,
    start,
    check: planProblems,
    submit: async ({ people: _people, roomIds, ...visit }) => {
      const id = newId()
      await api.certifications.startFrom({ command: newCommand(), id, ...visit, roomIds: [...roomIds] })
      showCertification(id)
      toast.note(t('plan.started', { name: visit.name }))
      go(`/certification/${id}`)
    },
  })
}
