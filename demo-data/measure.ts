import type { z } from 'zod'
import type { RunDetail } from '#core/api/runs.ts'
import { planeBox } from '#core/methods/airflow/plane-layout.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { MeasuringPlane, Phase, Unit, Uuid } from '#core/model/values.ts'
import type { Air } from './air.ts'
import type { Desk } from './desk.ts'
import { type RoomAir, roomAir } from './displays.ts'
import { entered } from './entered.ts'
import type { PlacedRoom } from './place.ts'
import { type Kit, planeTask, type Task, taskAt } from './points.ts'
import { source } from './source.ts'

export type RunPlan = {
  readonly certificationId: Uuid
  readonly room: PlacedRoom
  readonly method: MethodId
  readonly phase: Phase
  readonly technician: Uuid
  readonly kit: Kit
  readonly unit: Unit
  readonly samples: number
  readonly note: string
  /** leave the run open after this many filters */
  readonly openAfterFilters: number | null
  readonly stationPressurePa: number
  readonly barometer: boolean
  /** pressures over doors that are not as they should be, Pa, by the rooms on both sides */
  readonly doors: Readonly<Record<string, string>>
  /** what does not suit about the velocity instrument, and why the certifier goes on */
  readonly accepted: { readonly code: string; readonly reason: string; readonly certifier: Uuid } | null
  readonly carried: { readonly terminals: readonly string[]; readonly fromRunId: Uuid; readonly reason: string } | null
  readonly plane: { readonly zone: string; readonly heightM: number; readonly rows: number; readonly columns: number } | null
}

/** Seconds as in the workload rates of the domain: set up a room, walk to the next filter, one reading. */
const SECONDS = { setUp: 600, nextFilter: 45, reading: 12 } as const

type Detail = z.infer<typeof RunDetail>

/** Starts a run, reads the cautions, measures one thing after the other as a technician does, and completes it. */
export async function measure(desk: Desk, air: Air, plan: RunPlan): Promise<Uuid> {
  const { api, clock } = desk
  const runId = clock.uuid()
  const zoneId = plan.plane ? (plan.room.zones.get(plan.plane.zone) ?? null) : null
  clock.pass(SECONDS.setUp)
  let detail = await api.runs.start({
    command: desk.command(plan.technician),
    id: runId,
    certificationId: plan.certificationId,
    roomId: plan.room.id,
    zoneId,
    method: plan.method,
    phase: plan.phase,
    plane: planeOf(plan),
    occupancyState: 'at_rest',
    operatingState: { airHandler: 'Automatic, production setpoint', doors: 'Closed', equipment: 'Installed, not running' },
    facingDegrees: 0,
    unit: plan.unit,
    averagingTimeS: plan.plane ? 10 : 5,
    samplesPerPoint: plan.samples,
    planeGrid: plan.plane && { rows: plan.plane.rows, columns: plan.plane.columns },
  })
  const { room, terminals } = pinned(detail)
  const cautions = methodOf(plan.method).cautions(room, [...terminals.values()])
  clock.pass(60)
  await api.runs.readCautions({ command: desk.command(plan.technician), runId, revision: detail.run.revision, cautions })
  detail = await api.runs.get({ runId })
  const here = roomAir(plan.room.number, plan.stationPressurePa)
  const set = {
    conditions: written(here, plan.barometer),
    note: plan.note,
    ...(plan.method === 'room_airflow'
      ? { doorPressures: doorPressures(plan, air), otherUnits: { flow: 'm3/h', pressure: 'Pa' } as const }
      : {}),
    ...(plan.carried ? { carried: carriedOf(plan) } : {}),
  }
  await api.runs.edit({ command: desk.command(plan.technician), runId, revision: detail.run.revision, set })
  if (plan.accepted) {
    const { code, reason, certifier } = plan.accepted
    const { revision } = (await api.runs.get({ runId })).run
    const misfit = { code, reason, terminalId: null, instrumentId: plan.kit.velocity.id }
    await api.runs.acceptMisfit({ command: desk.command(certifier), runId, revision, misfit })
  }
  let done = 0
  for (const task of tasksOf(desk, air, plan, detail, here)) {
    if (done === plan.openAfterFilters) return runId
    await recordTask(desk, air, plan, runId, task)
    done += 1
  }
  clock.pass(120)
  detail = await api.runs.get({ runId })
  await api.runs.complete({ command: desk.command(plan.technician), runId, revision: detail.run.revision })
  return runId
}

function planeOf({ plane }: RunPlan): MeasuringPlane {
  return plane ? { kind: 'working_height', heightM: plane.heightM } : { kind: 'filter_face', distanceM: 0.15 }
}

function pinned({ pins }: Detail) {
  let room: EntityBody<'room'> | null = null
  const terminals = new Map<Uuid, EntityBody<'terminal'>>()
  const zones = new Map<Uuid, EntityBody<'zone'>>()
  for (const pin of pins) {
    if (pin.kind === 'room') room = pin.body
    if (pin.kind === 'terminal') terminals.set(pin.id, pin.body)
    if (pin.kind === 'zone') zones.set(pin.id, pin.body)
  }
  if (!room) throw new Error('The run does not hold its room.')
  return { room, terminals, zones }
}

/** In the order of the points, terminal by terminal. */
function tasksOf(desk: Desk, air: Air, plan: RunPlan, detail: Detail, here: RoomAir): Task[] {
  const setting = { air, roomAir: here, kit: plan.kit, unit: plan.unit, day: () => desk.clock.today() }
  const { terminals, zones } = pinned(detail)
  if (plan.plane) {
    const zoneId = plan.room.zones.get(plan.plane.zone) ?? ''
    const zone = zones.get(zoneId)
    if (!zone) throw new Error(`The demo source speaks of an area ${plan.plane.zone} that room ${plan.room.number} does not have.`)
    const over = plan.room.filters.filter(({ id }) => terminals.get(id)?.zoneId === zoneId)
    return [planeTask(over, planeBox(zone.boundary).centre, detail.locations, source.air.atWorkingHeightPercent / 100, setting)]
  }
  const carried = new Set(plan.carried?.terminals)
  const places = new Map([...plan.room.filters, ...plan.room.grilles].map((placed) => [placed.id, placed]))
  const ids = [...new Set(detail.locations.map(({ terminalId }) => terminalId))]
  return ids.flatMap((id) => {
    const placed = places.get(id ?? '')
    const body = terminals.get(id ?? '')
    if (!placed || !body || carried.has(placed.tag)) return []
    const own = detail.locations.filter(({ terminalId }) => terminalId === id)
    return [taskAt(placed, body, own, setting)]
  })
}

type Entry = { point: number; sample: number; typed: string; unit: Unit; replaces: string | null }

/** One filter at a time, in one block. A slip of the hand is noticed when the filter is done, and put right. */
async function recordTask(desk: Desk, air: Air, plan: RunPlan, runId: Uuid, task: Task): Promise<void> {
  const record = (entries: Entry[]) =>
    desk.api.readings.record({ command: desk.command(plan.technician), runId, instrumentId: task.display.id, entries })
  const meant: Entry[] = []
  const entries: Entry[] = []
  for (const point of task.points) {
    for (let sample = 1; sample <= plan.samples; sample += 1) {
      const typed = point.read()
      const entry = { point: point.number, sample, typed, unit: task.unit, replaces: null }
      const slipped = air.slips()
      if (slipped) meant.push(entry)
      entries.push(slipped ? { ...entry, typed: slip(typed) } : entry)
    }
  }
  desk.clock.pass(SECONDS.nextFilter + entries.length * SECONDS.reading)
  const recorded = await record(entries)
  for (const entry of meant) {
    desk.clock.pass(SECONDS.reading)
    const wrong = recorded.find((reading) => reading.point === entry.point && reading.sample === entry.sample)
    await record([{ ...entry, replaces: wrong?.id ?? null }])
  }
}

/** The classic slip of the hand: the point one place too far to the right. */
function slip(typed: string): string {
  const [, decimals = ''] = typed.split('.')
  return decimals === '' ? `${typed}0` : (Number(typed) * 10).toFixed(decimals.length - 1)
}

/** What the climate meter showed, and the barometer where there was one. */
function written({ temperatureC, humidityPercent, pressurePa }: RoomAir, barometer: boolean): EntityBody<'run'>['conditions'] {
  return {
    temperature: entered(temperatureC.toFixed(1), 'degC'),
    relativeHumidity: entered(humidityPercent.toFixed(0), '%'),
    pressure: barometer ? entered((pressurePa / 100).toFixed(1), 'hPa') : null,
  }
}

function carriedOf({ room, carried }: RunPlan): EntityBody<'run'>['carried'] {
  if (!carried) return []
  const { terminals, fromRunId, reason } = carried
  const known = new Map([...room.filters, ...room.grilles].map(({ tag, id }) => [tag, id]))
  const idOf = (tag: string): Uuid => {
    const id = known.get(tag)
    if (id === undefined) throw new Error(`The demo source carries ${tag}, which is not in room ${room.number}.`)
    return id
  }
  return [{ terminalIds: terminals.map(idOf), fromRunId, reason, fanOrMainDamperMoved: false }]
}

/** Pressures over the room's doors: a little more than they should be, but for those that the source names. */
function doorPressures({ room, doors, kit }: RunPlan, air: Air): EntityBody<'run'>['doorPressures'] {
  return room.doors.map(({ id, between, wantedPa }) => {
    const wanted = wantedPa ?? 3
    const usual = wanted + Math.sign(wanted) * 2.5 + source.air.doorPressureSpreadPa * air.scatter()
    return { doorId: id, difference: entered(doors[between] ?? usual.toFixed(1), 'Pa'), instrumentId: kit.pressure.id }
  })
}
