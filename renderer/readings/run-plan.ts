import { inPathOrder } from '#core/methods/airflow/layout.ts'
import { zoneAsFace } from '#core/methods/airflow/plane-face.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { Pinned } from '#core/methods/method.ts'
import type { Entity, EntityKind } from '#core/model/entities.ts'
import type { Location, Reading } from '#core/model/readings.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { Quantity, Uuid } from '#core/model/values.ts'
import { type FaceSize, sizeOf } from './face-view.ts'
import type { PathPoint } from './typing.ts'

/** What the contract gives of a run. */
export type RunDetail = {
  readonly run: Entity
  readonly pins: readonly Entity[]
  readonly stale: readonly Uuid[]
  readonly locations: readonly Location[]
  readonly readings: readonly Reading[]
}

/** How a place is measured: a terminal by one of the ways of flow, or the plane of a zone. */
export type Way = FlowWay | 'plane'

/** One terminal of a run, or the plane of its zone told as a terminal: then the identity is that of the zone. */
export type FilterPlan = {
  readonly terminalId: Uuid
  readonly terminal: Pinned<'terminal'>
  readonly way: Way
  readonly quantity: Quantity
  /** why its readings are those of as found; null: it is measured in this run */
  readonly carried: string | null
  readonly element: PinnedAny<'filter_element'> | null
  /** in the order they are walked */
  readonly points: readonly Location[]
  readonly size: FaceSize
  readonly zone: Pinned<'zone'> | null
  /** place among the run's filters, from 0 */
  readonly index: number
}

type PinnedAny<K extends EntityKind> = { readonly id: Uuid; readonly revision: number; readonly body: Extract<Entity, { kind: K }>['body'] }

/** A run laid out for the person who walks it: filters in path order, each with its points. Readings are kept elsewhere. */
export type RunPlan = {
  readonly runId: Uuid
  readonly run: Extract<Entity, { kind: 'run' }>
  readonly room: Pinned<'room'>
  readonly zones: readonly Pinned<'zone'>[]
  readonly instruments: readonly Pinned<'instrument'>[]
  readonly calibrations: readonly (Pinned<'calibration'> & { readonly instrumentId: Uuid })[]
  readonly criteriaSets: readonly Pinned<'criteria_set'>[]
  readonly terminals: readonly Pinned<'terminal'>[]
  readonly doors: readonly Pinned<'door'>[]
  /** of the site, as the run pinned it; m */
  readonly altitudeM: number | null
  readonly filters: readonly FilterPlan[]
  readonly filterOf: ReadonlyMap<Uuid, FilterPlan>
  readonly terminalOfPoint: ReadonlyMap<number, Uuid>
  readonly path: readonly PathPoint[]
  /** how many pinned things have a newer revision than the one this run uses */
  readonly outdated: number
}

/** The entities of one kind. */
export function ofKind<K extends EntityKind>(entities: readonly Entity[], kind: K): Extract<Entity, { kind: K }>[] {
  return entities.filter((entity): entity is Extract<Entity, { kind: K }> => entity.kind === kind)
}

/** Lays a run out. Null when the detail is not that of a run with its room, which a sound project never answers. */
export function planRun(detail: RunDetail): RunPlan | null {
  const run = detail.run
  const room = ofKind(detail.pins, 'room')[0]
  if (run.kind !== 'run' || !room) return null
  const terminals = ofKind(detail.pins, 'terminal')
  const zones = ofKind(detail.pins, 'zone')
  const elements = ofKind(detail.pins, 'filter_element')
  const missing = new Set(run.body.missing.flatMap((reason) => reason.terminalIds))
  const carried = new Map(run.body.carried.flatMap(({ terminalIds, reason }) => terminalIds.map((id) => [id, reason] as const)))
  const method = methodOf(run.body.method)
  const plane = run.body.method === 'plane_velocity_grid' ? zones.find((zone) => zone.id === run.body.zoneId) : undefined

  const locations = [...detail.locations].sort((a, b) => a.number - b.number)
  const pointsOf = new Map<Uuid, Location[]>()
  const terminalOfPoint = new Map<number, Uuid>()
  for (const location of locations) {
    const owner = location.terminalId ?? plane?.id
    if (!owner) continue
    terminalOfPoint.set(location.number, owner)
    const points = pointsOf.get(owner)
    if (points) points.push(location)
    else pointsOf.set(owner, [location])
  }
  const placed = plane ? [zoneAsFace(plane)] : terminals
  // A filter whose grid was changed got new point numbers at the end of the run, and is still walked where it hangs.
  const filters = inPathOrder(placed.filter((terminal) => pointsOf.has(terminal.id))).map((terminal, index): FilterPlan => {
    const terminalId = terminal.id
    const points = pointsOf.get(terminalId) ?? []
    const zone = plane ?? zones.find((candidate) => candidate.id === terminal.body.zoneId) ?? null
    const element = elements.find((candidate) => candidate.parentId === terminalId) ?? null
    return {
      terminalId,
      terminal,
      way: plane ? 'plane' : (method.wayAt(terminal.body) ?? 'face_grid'),
      quantity: method.recordsAt(plane ? null : terminal.body),
      carried: carried.get(terminalId) ?? null,
      element,
      points,
      size: sizeOf(points),
      zone,
      index,
    }
  })
  return {
    runId: run.id,
    run,
    room,
    zones,
    instruments: ofKind(detail.pins, 'instrument'),
    calibrations: ofKind(detail.pins, 'calibration').flatMap((calibration) =>
      calibration.parentId ? [{ ...calibration, instrumentId: calibration.parentId }] : [],
    ),
    criteriaSets: ofKind(detail.pins, 'criteria_set'),
    terminals,
    doors: ofKind(detail.pins, 'door'),
    altitudeM: ofKind(detail.pins, 'facility')[0]?.body.altitudeM ?? null,
    outdated: detail.stale.length,
    filters,
    filterOf: new Map(filters.map((filter) => [filter.terminalId, filter])),
    terminalOfPoint,
    path: filters.flatMap((filter) =>
      filter.points.map((point) => ({
        point: point.number,
        terminalId: filter.terminalId,
        passedOver: filter.carried !== null || missing.has(filter.terminalId),
      })),
    ),
  }
}

/** What is read at the places of a run, in the order they are walked. */
export function quantitiesOf(plan: Pick<RunPlan, 'filters'>): Quantity[] {
  return [...new Set(plan.filters.map((filter) => filter.quantity))]
}

/** The velocity that a filter or plane is designed for: its own, else its zone's, else its room's; m/s. Of a duct nothing of the kind is known. */
export function designVelocityMps(plan: RunPlan, filter: FilterPlan): number | null {
  if (filter.way !== 'face_grid' && filter.way !== 'plane') return filter.terminal.body.designVelocity?.si ?? null
  const own = filter.terminal.body.designVelocity ?? filter.zone?.body.designVelocity ?? plan.room.body.designVelocity
  return own?.si ?? null
}
