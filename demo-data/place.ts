import type { EntityChange } from '#core/api/entities.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { PlanShape, Uuid } from '#core/model/values.ts'
import { roomVolumeM3 } from '#core/rooms/geometry.ts'
import { toSi } from '#core/units/units.ts'
import type { AirTerminal } from './air.ts'
import { entered, round } from './entered.ts'
import { grilleBody } from './grilles.ts'
import { type FilterBank, type RoomSource, source } from './source.ts'

export type PlacedRoom = {
  readonly id: Uuid
  readonly number: string
  readonly filters: readonly PlacedTerminal[]
  readonly grilles: readonly PlacedTerminal[]
  readonly zones: ReadonlyMap<string, Uuid>
  readonly doors: readonly PlacedDoor[]
}
export type PlacedTerminal = AirTerminal & {
  readonly id: Uuid
  readonly widthM: number
  readonly areaM2: number
  readonly x: number
  readonly y: number
}
/** A door of a room; `between` names both rooms, or one and "outside". */
export type PlacedDoor = { readonly id: Uuid; readonly between: string; readonly wantedPa: number | null }

export type PlacedSite = {
  /** one command per facility, in the order in which a person would enter them */
  readonly commands: readonly { readonly scope: string; readonly changes: EntityChange[] }[]
  readonly rooms: ReadonlyMap<string, PlacedRoom>
}

const create = <K extends EntityChange['kind']>(kind: K, id: Uuid, parentId: Uuid | null, body: EntityBody<K>): EntityChange =>
  // The kind and the body belong together by the signature; the union of changes cannot express that for a generic kind.
  ({ kind, id, parentId, revision: null, body }) as EntityChange

/** Turns the source of the site into the changes that enter it, with fresh identities. */
export function placeSite(newId: () => Uuid, sets: { unidirectional: Uuid; turbulent: Uuid }): PlacedSite {
  const rooms = new Map<string, PlacedRoom & { doors: PlacedDoor[] }>()
  const commands = source.site.facilities.map((facility) => {
    const facilityId = newId()
    const { name, address, northDegrees, altitudeM } = facility
    const changes: EntityChange[] = [create('facility', facilityId, null, { name, address, northDegrees, altitudeM, note: '' })]
    const systems = placeSystems(facility.systems, facilityId, newId)
    changes.push(...systems.changes)
    for (const room of facility.rooms) {
      const placed = placeRoom(room, facilityId, newId, sets, (direction) => systems.of(direction, room.system))
      changes.push(...placed.changes)
      rooms.set(room.number, placed.room)
    }
    for (const door of facility.doors) {
      const [from, to] = door.between
      const doorId = newId()
      const placed = { id: doorId, between: `${from} ${to ?? 'outside'}`, wantedPa: door.pressure === null ? null : Number(door.pressure) }
      for (const number of door.between) if (number !== null) rooms.get(number)?.doors.push(placed)
      changes.push(
        create('door', doorId, facilityId, {
          name: door.name,
          roomIds: [idOf(rooms, from), to === null ? null : idOf(rooms, to)],
          x: door.at[0],
          y: door.at[1],
          width: door.width,
          rotationDegrees: door.wall === 'upright' ? 90 : 0,
          leastPressureDifference: door.pressure === null ? null : entered(door.pressure, 'Pa'),
          transfer: door.transfer ? { flow: entered(door.transfer.flow, 'm3/h'), basis: 'actual', how: door.transfer.how } : null,
          note: '',
        }),
      )
    }
    return { scope: facilityId, changes }
  })
  return { commands, rooms }
}

function idOf(rooms: ReadonlyMap<string, PlacedRoom>, number: string): Uuid {
  const room = rooms.get(number)
  if (!room) throw new Error(`The demo source speaks of a room ${number} that the site does not have.`)
  return room.id
}

type SystemOf = (direction: 'supply' | 'return' | 'exhaust') => Uuid | null

/** The fans of a facility. Supply and return of a room go by the system it names, exhaust by the first that has any. */
function placeSystems(systems: (typeof source.site.facilities)[number]['systems'], facilityId: Uuid, newId: () => Uuid) {
  const ids = systems.map(() => newId())
  const flow = (typed: string | undefined) => (typed === undefined ? null : entered(typed, 'm3/h'))
  return {
    changes: systems.map(({ name, ...design }, index) =>
      create('air_system', ids[index] ?? '', facilityId, {
        name,
        designSupply: flow(design.supply),
        designReturn: flow(design.return),
        designExhaust: flow(design.exhaust),
        note: '',
      }),
    ),
    of: (direction: 'supply' | 'return' | 'exhaust', own: number): Uuid | null => {
      const index = direction === 'exhaust' ? systems.findIndex(({ exhaust }) => exhaust !== undefined) : own
      return ids[index] ?? null
    },
  }
}

function placeRoom(
  room: RoomSource,
  facilityId: Uuid,
  newId: () => Uuid,
  sets: { unidirectional: Uuid; turbulent: Uuid },
  systemOf: SystemOf,
) {
  const id = newId()
  const [left, lower] = room.origin
  const grade = source.criteria.grades[room.grade]
  const unidirectional = room.filters.every((bank) => bank.velocity !== undefined)
  const plan = {
    shape: shapeOf(room),
    ceilingHeight: entered(room.ceiling, 'm'),
    statedVolume: null,
  }
  const design = (3600 * designFlowM3ps(room)) / roomVolumeM3(plan)
  const changes: EntityChange[] = [
    create('room', id, facilityId, {
      number: room.number,
      name: room.name,
      ...plan,
      cleanlinessClass: grade.class,
      occupancyState: 'at_rest',
      airflowType: unidirectional ? 'unidirectional' : 'non_unidirectional',
      designAirChangesPerHour: unidirectional ? null : Math.round(design),
      requiredAirChangesPerHour: grade.requiredAirChanges,
      designVelocity: unidirectional ? entered('0.45', 'm/s') : null,
      criteriaSetId: unidirectional ? sets.unidirectional : sets.turbulent,
      overrides: [],
      hazards: room.grade === 'D' || room.grade === 'C' ? [] : ['sterile'],
      ...LATER_FIELDS.room,
      inUse: true,
      note: `Grade ${room.grade}`,
    }),
  ]
  const zoneIds = room.zones.map((zone) => {
    const zoneId = newId()
    const [x, y, width, depth] = zone.box
    const corner = (dx: number, dy: number) => ({ x: left + x + dx, y: lower + y + dy })
    changes.push(
      create('zone', zoneId, id, {
        name: zone.name,
        boundary: [corner(0, 0), corner(width, 0), corner(width, depth), corner(0, depth)],
        cleanlinessClass: 'ISO 5',
        occupancyState: 'at_rest',
        designVelocity: entered('0.45', 'm/s'),
        criteriaSetId: sets.unidirectional,
        overrides: [],
        note: '',
      }),
    )
    return zoneId
  })
  const filters: PlacedTerminal[] = []
  for (const bank of room.filters) {
    for (const [x, y] of placesOf(bank)) {
      const place = { x: round(left + x), y: round(lower + y) }
      const filter = placeFilter(bank, `${room.number}/${String(filters.length + 1).padStart(2, '0')}`, newId(), place, systemOf)
      const at = { zoneId: bank.zone === undefined ? null : (zoneIds[bank.zone] ?? null) }
      changes.push(create('terminal', filter.placed.id, id, { ...filter.body, ...at }))
      changes.push(create('filter_element', newId(), filter.placed.id, elementOf(filter.placed.tag, 0, source.visits.installedOn)))
      filters.push(filter.placed)
    }
  }
  const grilles = room.grilles.map((grille, index): PlacedTerminal => {
    const tag = `${room.number}/${grille.kind === 'exhaust_grille' ? 'X' : 'R'}${index + 1}`
    const airSystemId = systemOf(grille.kind === 'exhaust_grille' ? 'exhaust' : 'return')
    const body = { ...grilleBody(room, grille, tag), airSystemId }
    const terminalId = newId()
    changes.push(create('terminal', terminalId, id, body))
    const areaM2 = body.effectiveArea.si
    const designMps = (body.designFlow?.si ?? 0) / areaM2
    return { id: terminalId, tag, kind: grille.kind, designMps, widthM: body.grossWidth.si, areaM2, x: body.x, y: body.y }
  })
  const zones = new Map(room.zones.map(({ name }, index) => [name, zoneIds[index] ?? '']))
  return { changes, room: { id, number: room.number, filters, grilles, zones, doors: [] } }
}

/** An element with an invented serial number that tells which terminal it was bought for and the how-manieth it is. */
export function elementOf(tag: string, generation: number, installedOn: string): EntityBody<'filter_element'> {
  const serialNumber = `QF-${installedOn.slice(2, 4)}-${tag.replaceAll(/[-/]/g, '')}-${generation + 1}`
  return { serialNumber, model: 'Pleated panel, final stage', installedOn, removedOn: null, note: '' }
}

function placesOf(bank: FilterBank): [number, number][] {
  const [columns, rows] = bank.count
  return Array.from({ length: columns * rows }, (_, index) => {
    const column = index % columns
    const row = Math.floor(index / columns)
    return [bank.from[0] + column * bank.step[0], bank.from[1] - row * bank.step[1]]
  })
}

function sizeOf(bank: FilterBank) {
  const size = source.site.filterSizes[bank.size]
  if (!size) throw new Error(`The demo source speaks of a filter size ${bank.size} that it does not give.`)
  return size
}

function placeFilter(bank: FilterBank, tag: string, id: Uuid, place: { x: number; y: number }, systemOf: SystemOf) {
  const size = sizeOf(bank)
  const areaM2 = Number(size.effectiveArea)
  const designFlow = bank.flow === undefined ? null : entered(bank.flow, 'm3/h')
  const designVelocity = bank.velocity === undefined ? null : entered(bank.velocity, 'm/s')
  const kind = bank.kind === 'fan_filter_unit' ? bank.kind : 'supply_filter'
  const airSource = bank.source ?? (kind === 'fan_filter_unit' ? 'recirculated' : 'air_handler')
  const placed: PlacedTerminal = {
    id,
    tag,
    kind,
    widthM: Number(size.width),
    areaM2,
    ...place,
    designMps: designVelocity?.si ?? (designFlow?.si ?? 0) / areaM2,
  }
  const body = {
    tag,
    kind,
    ...place,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: entered(size.width, 'm'),
    grossDepth: entered(size.depth, 'm'),
    effectiveArea: entered(size.effectiveArea, 'm2'),
    face: kind === 'fan_filter_unit' ? 'bare' : 'screen',
    airSource,
    designVelocity,
    designFlow,
    correctionFactor: null,
    grid: size.grid ?? null,
    closed: null,
    ...LATER_FIELDS.terminal,
    airSystemId: airSource === 'recirculated' ? null : systemOf('supply'),
    note: '',
  } as const
  return { placed, body }
}

function designFlowM3ps(room: RoomSource): number {
  const flows = room.filters.map((bank) => {
    const each = bank.flow === undefined ? Number(bank.velocity) * Number(sizeOf(bank).effectiveArea) : toSi(Number(bank.flow), 'm3/h')
    return each * bank.count[0] * bank.count[1]
  })
  return flows.reduce((sum, flow) => sum + flow, 0)
}

function shapeOf(room: RoomSource): PlanShape {
  const [left, lower] = room.origin
  if (room.size) return { kind: 'rectangle', x: left, y: lower, width: room.size[0], depth: room.size[1] }
  return { kind: 'polygon', points: (room.outline ?? []).map(([x, y]) => ({ x: left + x, y: lower + y })) }
}
