import type { Uuid } from '#core/model/values.ts'
import type { Air } from './air.ts'
import type { Desk } from './desk.ts'
import { displayOf } from './displays.ts'
import { measure } from './measure.ts'
import { type People, personOf, type Step } from './office.ts'
import type { PlacedRoom } from './place.ts'
import { type PlaneRound, type Retest, source, type Visit } from './source.ts'

export type Site = {
  readonly rooms: ReadonlyMap<string, PlacedRoom>
  readonly people: People
  readonly instruments: ReadonlyMap<string, Uuid>
  readonly air: Air
}

/** A visit while it is played: its runs by identity, each with its room's number. */
type VisitState = { certificationId: Uuid; readonly runs: Map<Uuid, string> }

/** One step per day of a visit, per retest and for the signing: the visits as they went. */
export function visitSteps(desk: Desk, site: Site): Step[] {
  let previousId: Uuid | null = null
  return source.visits.visits.flatMap((visit) => {
    const state: VisitState = { certificationId: '', runs: new Map() }
    const start: Step = {
      on: visit.startsOn,
      at: '07:30',
      does: async () => {
        state.certificationId = await startVisit(desk, site, visit, previousId)
        previousId = state.certificationId
      },
    }
    const days = visit.days.map(
      (day): Step => ({
        on: day.on,
        at: '08:00',
        does: async () => {
          for (const number of day.rooms) {
            const round = { ...day, room: roomOf(site, number), phase: 'as_found' as const, note: '' }
            state.runs.set(await measureRoom(desk, site, visit, state, round), number)
          }
        },
      }),
    )
    const retests = visit.retests.map(
      (retest): Step => ({
        on: retest.on,
        at: '13:30',
        does: async () => {
          for (const [tag, fraction] of Object.entries(retest.set)) site.air.set(tag, fraction, retest.on)
          for (const tag of retest.straighten) site.air.straighten(tag)
          const room = roomOf(site, retest.room)
          const day = { ...retest, samples: 1, room, phase: 'as_left' as const, note: retest.work }
          state.runs.set(await measureRoom(desk, site, visit, state, day), retest.room)
        },
      }),
    )
    const planes = visit.planes.map(
      (plane): Step => ({
        on: plane.on,
        at: '14:30',
        does: async () => {
          const day = { ...plane, samples: 1, room: roomOf(site, plane.room), phase: 'as_found' as const, plane }
          state.runs.set(await measureRoom(desk, site, visit, state, day), plane.room)
        },
      }),
    )
    return [start, ...days, ...planes, ...retests, ...releases(desk, site, visit, state), ...signing(desk, site, visit, state)]
  })
}

async function startVisit(desk: Desk, site: Site, visit: Visit, previousId: Uuid | null): Promise<Uuid> {
  const certifier = personOf(site.people, 'brandsdal')
  const id = desk.clock.uuid()
  const { name, startsOn, endsOn, purpose, why } = visit
  await desk.api.certifications.startFrom({
    command: desk.command(certifier),
    id,
    previousId,
    name,
    startsOn,
    endsOn,
    purpose,
    why,
    roomIds: [...site.rooms.values()].map((room) => room.id),
  })
  const { revision, body } = await desk.find('certification', id)
  const technicians = [...visit.days, ...visit.retests].map((day) => personOf(site.people, day.technician))
  const personIds = [...new Set([certifier, ...technicians])]
  await desk.change(certifier, 'edit', id, [{ kind: 'certification', id, parentId: null, revision, body: { ...body, personIds } }])
  return id
}

function roomOf(site: Site, number: string): PlacedRoom {
  const room = site.rooms.get(number)
  if (!room) throw new Error(`The demo source speaks of a room ${number} that the site does not have.`)
  return room
}

type Round = {
  readonly on: string
  readonly technician: string
  readonly instrument: string
  readonly unit: Visit['days'][number]['unit']
  readonly samples: number
  readonly room: PlacedRoom
  readonly phase: 'as_found' | 'as_left'
  readonly note: string
  readonly openAfterFilters?: number | undefined
  readonly misfit?: string | undefined
  readonly carry?: Retest['carry']
  readonly plane?: PlaneRound
}

async function measureRoom(desk: Desk, site: Site, visit: Visit, state: VisitState, round: Round): Promise<Uuid> {
  site.air.advanceTo(round.on)
  const { room, phase, unit, samples, note, carry, plane = null } = round
  const display = (key: string) => displayOf(key, site.instruments.get(key) ?? '')
  const wholeRoom = visit.wholeRooms.includes(room.number)
  const before = [...state.runs].find(([, number]) => number === room.number)
  if (carry && !before) throw new Error(`The demo source carries readings of ${room.number}, which was not measured as found.`)
  return measure(desk, site.air, {
    certificationId: state.certificationId,
    room,
    method: plane ? 'plane_velocity_grid' : wholeRoom ? 'room_airflow' : 'face_velocity_grid',
    phase,
    technician: personOf(site.people, round.technician),
    kit: {
      velocity: display(round.instrument),
      flow: display(source.visits.flowInstrument),
      pressure: display(source.visits.pressureInstrument),
    },
    unit,
    samples,
    note,
    openAfterFilters: round.openAfterFilters ?? null,
    stationPressurePa: Number(visit.stationPressure),
    barometer: visit.barometer,
    doors: visit.doors,
    accepted: round.misfit === undefined ? null : acceptedMisfit(site, round.misfit),
    carried: carry && before ? { ...carry, fromRunId: before[0] } : null,
    plane,
  })
}

function acceptedMisfit(site: Site, key: string) {
  const misfit = source.visits.misfits[key]
  if (!misfit) throw new Error(`The demo source speaks of a misfit ${key} that it does not give.`)
  return { ...misfit, certifier: personOf(site.people, 'brandsdal') }
}

/** A run whose instrument was past due is opened again when its next certificate has come, which releases it. */
function releases(desk: Desk, site: Site, visit: Visit, state: VisitState): Step[] {
  return visit.released.map(({ on, room, technician, reason }) => ({
    on,
    at: '10:00',
    does: async () => {
      const by = personOf(site.people, technician)
      for (const [runId, number] of state.runs) {
        if (number !== room) continue
        const step = async (act: 'reopen' | 'refresh' | 'complete') => {
          const { run } = await desk.api.runs.get({ runId })
          desk.clock.pass(40)
          await desk.api.runs[act]({ command: desk.command(by, reason), runId, revision: run.revision })
        }
        await step('reopen')
        await step('refresh')
        await step('complete')
      }
    },
  }))
}

function signing(desk: Desk, site: Site, visit: Visit, state: VisitState): Step[] {
  const { signed } = visit
  if (!signed) return []
  return [
    {
      on: signed.on,
      at: '09:00',
      does: async () => {
        const by = personOf(site.people, signed.by)
        for (const runId of state.runs.keys()) {
          const { run } = await desk.api.runs.get({ runId })
          desk.clock.pass(90)
          await desk.api.runs.sign({ command: desk.command(by), runId, revision: run.revision, meaning: 'approved' })
        }
        const id = state.certificationId
        const { revision, body } = await desk.find('certification', id)
        const finished = { ...body, finished: visit.finished }
        await desk.change(by, 'edit', id, [{ kind: 'certification', id, parentId: null, revision, body: finished }])
      },
    },
  ]
}
