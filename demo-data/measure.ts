import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Location } from '#core/model/readings.ts'
import type { Phase, Unit, Uuid } from '#core/model/values.ts'
import { fromSi } from '#core/units/units.ts'
import type { Air } from './air.ts'
import type { Desk } from './desk.ts'
import { entered, type PlacedFilter, type PlacedRoom } from './place.ts'

export type RunPlan = {
  readonly certificationId: Uuid
  readonly room: PlacedRoom
  readonly phase: Phase
  readonly technician: Uuid
  readonly instrumentId: Uuid
  readonly unit: Unit
  readonly samples: number
  readonly note: string
  /** leave the run open after this many filters */
  readonly openAfterFilters: number | null
}

/** Seconds as in the workload rates of the domain: set up a room, walk to the next filter, one reading. */
const SECONDS = { setUp: 600, nextFilter: 45, reading: 12 } as const

/** Starts a run, reads the cautions, measures filter after filter as a technician does, and completes it. */
export async function measure(desk: Desk, air: Air, plan: RunPlan): Promise<Uuid> {
  const { api, clock } = desk
  const runId = clock.uuid()
  clock.pass(SECONDS.setUp)
  let detail = await api.runs.start({
    command: desk.command(plan.technician),
    id: runId,
    certificationId: plan.certificationId,
    roomId: plan.room.id,
    zoneId: null,
    method: 'face_velocity_grid',
    phase: plan.phase,
    plane: { kind: 'filter_face', distanceM: 0.15 },
    occupancyState: 'at_rest',
    operatingState: { airHandler: 'Automatic, production setpoint', doors: 'Closed', equipment: 'Installed, not running' },
    facingDegrees: 0,
    unit: plan.unit,
    averagingTimeS: 5,
    samplesPerPoint: plan.samples,
  })
  const room = detail.pins.find((pin) => pin.kind === 'room')
  const terminals = detail.pins.filter((pin) => pin.kind === 'terminal').map((pin) => pin.body as EntityBody<'terminal'>)
  if (room?.kind !== 'room') throw new Error('The run does not hold its room.')
  const cautions = methodOf('face_velocity_grid').cautions(room.body, terminals)
  clock.pass(60)
  await api.runs.readCautions({ command: desk.command(plan.technician), runId, revision: detail.run.revision, cautions })
  detail = await api.runs.get({ runId })
  await api.runs.edit({
    command: desk.command(plan.technician),
    runId,
    revision: detail.run.revision,
    set: { conditions: conditionsOf(plan.room), note: plan.note },
  })
  await recordAll(desk, air, plan, runId, detail.locations)
  if (plan.openAfterFilters !== null) return runId
  clock.pass(120)
  detail = await api.runs.get({ runId })
  await api.runs.complete({ command: desk.command(plan.technician), runId, revision: detail.run.revision })
  return runId
}

type Point = { readonly number: number; readonly index: number; readonly sideways: number }
type Entry = { point: number; sample: number; typed: string; unit: Unit; replaces: string | null }

async function recordAll(desk: Desk, air: Air, plan: RunPlan, runId: Uuid, locations: readonly Location[]): Promise<void> {
  const filters = new Map(plan.room.filters.map((filter) => [filter.id, filter]))
  const points = new Map<PlacedFilter, Point[]>()
  for (const location of locations) {
    const filter = location.terminalId === null ? undefined : filters.get(location.terminalId)
    if (!filter) continue
    const own = points.get(filter) ?? []
    own.push({ number: location.number, index: own.length, sideways: (2 * location.offsetXM) / filter.widthM })
    points.set(filter, own)
  }
  let done = 0
  for (const [filter, own] of points) {
    if (done === plan.openAfterFilters) return
    await recordFilter(desk, air, plan, runId, filter, own)
    done += 1
  }
}

/** One filter at a time, in one block. A slip of the hand is noticed when the filter is done, and put right. */
async function recordFilter(desk: Desk, air: Air, plan: RunPlan, runId: Uuid, filter: PlacedFilter, points: readonly Point[]) {
  const record = (entries: Entry[]) =>
    desk.api.readings.record({ command: desk.command(plan.technician), runId, instrumentId: plan.instrumentId, entries })
  const meant: Entry[] = []
  const entries: Entry[] = []
  for (const point of points) {
    for (let sample = 1; sample <= plan.samples; sample += 1) {
      const typed = shown(air.velocityMps(filter.tag, point, desk.clock.today()), plan.unit)
      const entry = { point: point.number, sample, typed, unit: plan.unit, replaces: null }
      const slipped = air.slips()
      if (slipped) meant.push(entry)
      entries.push(slipped ? { ...entry, typed: slip(typed) } : entry)
    }
  }
  desk.clock.pass(SECONDS.nextFilter + entries.length * SECONDS.reading)
  const written = await record(entries)
  for (const entry of meant) {
    desk.clock.pass(SECONDS.reading)
    const wrong = written.find((reading) => reading.point === entry.point && reading.sample === entry.sample)
    await record([{ ...entry, replaces: wrong?.id ?? null }])
  }
}

/** What the display of the instrument shows: hundredths of m/s, whole ft/min. */
function shown(velocityMps: number, unit: Unit): string {
  return fromSi(velocityMps, unit).toFixed(unit === 'm/s' ? 2 : 0)
}

/** The classic slip of the hand: the point one place too far to the right. */
function slip(typed: string): string {
  return typed.includes('.') ? (Number(typed) * 10).toFixed(1) : `${typed}0`
}

/** Invented, but the same for the same room: what the climate meter showed. */
function conditionsOf(room: PlacedRoom): EntityBody<'run'>['conditions'] {
  const step = Number(room.number.slice(-1))
  return {
    temperature: entered((20 + step * 0.2).toFixed(1), 'degC'),
    relativeHumidity: entered((42 + step).toFixed(0), '%'),
    pressure: entered((99_100 + step * 20).toFixed(0), 'Pa'),
  }
}
