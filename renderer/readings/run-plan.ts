import { inPathOrder } from '#core/methods/airflow/layout.ts'
import type { Pinned } from '#core/methods/method.ts'
import type { Entity, EntityKind } from '#core/model/entities.ts'
import type { Location, Reading } from '#core/model/readings.ts'
import type { Uuid } from '#core/model/values.ts'
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

export type FilterPlan = {
  readonly terminalId: Uuid
  readonly terminal: Pinned<'terminal'>
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

  const locations = [...detail.locations].sort((a, b) => a.number - b.number)
  const pointsOf = new Map<Uuid, Location[]>()
  const terminalOfPoint = new Map<number, Uuid>()
  for (const location of locations) {
    if (!location.terminalId) continue
    terminalOfPoint.set(location.number, location.terminalId)
    const points = pointsOf.get(location.terminalId)
    if (points) points.push(location)
    else pointsOf.set(location.terminalId, [location])
  }
  // A filter whose grid was changed got new point numbers at the end of the run, and is still walked where it hangs.
  const filters = inPathOrder(terminals.filter((terminal) => pointsOf.has(terminal.id))).map((terminal, index): FilterPlan => {
    const terminalId = terminal.id
    const points = pointsOf.get(terminalId) ?? []
    const zone = zones.find((candidate) => candidate.id === terminal.body.zoneId) ?? null
    const element = elements.find((candidate) => candidate.parentId === terminalId) ?? null
    return { terminalId, terminal, element, points, size: sizeOf(points), zone, index }
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
    outdated: detail.stale.length,
    filters,
    filterOf: new Map(filters.map((filter) => [filter.terminalId, filter])),
    terminalOfPoint,
    path: filters.flatMap((filter) =>
      filter.points.map((point) => ({
        point: point.number,
        terminalId: filter.terminalId,
        passedOver: missing.has(filter.terminalId),
      })),
    ),
  }
}

/** The velocity that a filter is designed for: its own, else its zone's, else its room's; m/s. */
export function designVelocityMps(plan: RunPlan, filter: FilterPlan): number | null {
  const own = filter.terminal.body.designVelocity ?? filter.zone?.body.designVelocity ?? plan.room.body.designVelocity
  return own?.si ?? null
}
