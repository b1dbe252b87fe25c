import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Location } from '#core/model/readings.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import type { Transaction } from './command.ts'
import type { Session } from './session.ts'

/** Everything of a room or zone that a run uses, as it stands today. */
export type RunScope = {
  readonly room: StoredEntity<'room'>
  readonly zones: readonly StoredEntity<'zone'>[]
  readonly terminals: readonly StoredEntity<'terminal'>[]
  readonly elements: readonly StoredEntity<'filter_element'>[]
  readonly criteriaSets: readonly StoredEntity<'criteria_set'>[]
  /** its altitude gives the pressure that was not measured */
  readonly facility: StoredEntity<'facility'> | null
  /** doors of the room; none for a method that does not balance it */
  readonly doors: readonly StoredEntity<'door'>[]
}

export function scopeOf(session: Session, { roomId, zoneId, method }: Pick<EntityBody<'run'>, 'roomId' | 'zoneId' | 'method'>): RunScope {
  const { entities } = session.stores
  const room = session.find('room', roomId, 'roomId')
  const zones = entities.list('zone', { within: room.rowId }).filter(({ entity }) => zoneId === null || entity.id === zoneId)
  const terminals = entities
    .list('terminal', { within: room.rowId })
    .filter(({ entity }) => zoneId === null || entity.body.zoneId === zoneId)
  const inScope = new Set(terminals.map(({ entity }) => entity.id))
  const elements = entities
    .list('filter_element', { within: room.rowId })
    .filter(({ entity }) => entity.parentId !== null && inScope.has(entity.parentId) && entity.body.removedOn === null)
  const setIds = new Set([room.entity.body.criteriaSetId, ...zones.map(({ entity }) => entity.body.criteriaSetId)])
  const criteriaSets = [...setIds].flatMap((id) => (id === null ? [] : [session.find('criteria_set', id, 'roomId')]))
  const { parentId } = room.entity
  const facility = parentId === null ? null : session.find('facility', parentId, 'roomId')
  const doors =
    facility && methodOf(method).balancesRoom
      ? entities.list('door', { within: facility.rowId }).filter(({ entity }) => entity.body.roomIds.includes(roomId))
      : []
  return { room, zones, terminals, elements, criteriaSets, facility, doors }
}

export function pinsOf(scope: RunScope): StoredEntity[] {
  return [
    scope.room,
    ...scope.zones,
    ...scope.terminals,
    ...scope.elements,
    ...scope.criteriaSets,
    ...(scope.facility ? [scope.facility] : []),
    ...scope.doors,
  ]
}

/** Pins an entity's revision in a run, and records it, unless exactly that is pinned already. */
export function pin(
  transaction: Transaction,
  run: { rowId: number; id: string },
  target: { rowId: number; id: string; revision: number },
  revisionBefore: number | null,
): void {
  if (revisionBefore === target.revision) return
  transaction.session.stores.runs.pin(run.rowId, target.rowId, target.revision)
  transaction.changes.push({ what: 'pin', runId: run.id, entityId: target.id, revisionBefore, revisionAfter: target.revision })
}

export function unpin(
  transaction: Transaction,
  run: { rowId: number; id: string },
  target: { rowId: number; id: string; revision: number },
): void {
  transaction.session.stores.runs.unpin(run.rowId, target.rowId)
  transaction.changes.push({ what: 'pin', runId: run.id, entityId: target.id, revisionBefore: target.revision, revisionAfter: null })
}

type PlacedTerminal = { readonly rowId: number; readonly id: string; readonly revision: number; readonly body: EntityBody<'terminal'> }

/** Lays out points for terminals, or over the plane of a zone, and adds them behind the points that are there; answers them as added. */
export function layOut(
  transaction: Transaction,
  run: { rowId: number; id: string; body: EntityBody<'run'> },
  terminals: readonly PlacedTerminal[],
  gridFor: ReadonlyMap<string, { rows: number; columns: number }>,
  plane?: EntityBody<'zone'>['boundary'],
): Location[] {
  const { runs } = transaction.session.stores
  const method = methodOf(run.body.method)
  const rows = new Map(terminals.map((terminal) => [terminal.id, terminal.rowId]))
  const last = runs.everyLocation(run.rowId).reduce((most, { location }) => Math.max(most, location.number), 0)
  const points: Location[] = method.layOut({
    terminals: terminals.filter((terminal) => method.measures(terminal.body)),
    facingDegrees: run.body.facingDegrees,
    gridFor,
    ...(plane ? { plane: { boundary: plane, grid: run.body.planeGrid } } : {}),
  })
  return points.map((point) => {
    const added = { ...point, number: last + point.number }
    runs.addLocation(run.rowId, added, point.terminalId === null ? null : (rows.get(point.terminalId) ?? null))
    return added
  })
}

export function asPlaced(stored: StoredEntity<'terminal'>): PlacedTerminal {
  return { rowId: stored.rowId, id: stored.entity.id, revision: stored.entity.revision, body: stored.entity.body }
}

/** The boundary of the zone whose plane a run measures; undefined for methods that measure terminals. */
export function planeOf(
  run: Pick<EntityBody<'run'>, 'method' | 'zoneId'>,
  zones: RunScope['zones'],
): EntityBody<'zone'>['boundary'] | undefined {
  if (run.method !== 'plane_velocity_grid') return undefined
  return zones.find(({ entity }) => entity.id === run.zoneId)?.entity.body.boundary
}
