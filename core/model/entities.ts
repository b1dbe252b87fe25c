import { z } from 'zod'
import { CriteriaSet } from './criteria.ts'
import { ImportMapping } from './import-mapping.ts'
import { Calibration, Instrument } from './instruments.ts'
import { AirSystem, Door, Facility, Person, Project, Room, Zone } from './places.ts'
import { Certification, Run } from './runs.ts'
import { FilterElement, Terminal } from './terminals.ts'
import { Uuid } from './values.ts'

export const ENTITY_SCHEMAS = {
  project: Project,
  person: Person,
  facility: Facility,
  room: Room,
  zone: Zone,
  terminal: Terminal,
  filter_element: FilterElement,
  door: Door,
  air_system: AirSystem,
  instrument: Instrument,
  calibration: Calibration,
  criteria_set: CriteriaSet,
  import_mapping: ImportMapping,
  certification: Certification,
  run: Run,
} as const

export type EntityKind = keyof typeof ENTITY_SCHEMAS
export const EntityKind = z.enum(Object.keys(ENTITY_SCHEMAS) as [EntityKind, ...EntityKind[]])
export type EntityBody<K extends EntityKind = EntityKind> = { [P in K]: z.infer<(typeof ENTITY_SCHEMAS)[P]> }[K]

/** The kind of parent each kind must have; null stands at the top of the project. */
export const PARENT_KIND: { readonly [K in EntityKind]: EntityKind | null } = {
  project: null,
  person: null,
  facility: null,
  room: 'facility',
  zone: 'room',
  terminal: 'room',
  filter_element: 'terminal',
  door: 'facility',
  air_system: 'facility',
  instrument: null,
  calibration: 'instrument',
  criteria_set: null,
  import_mapping: null,
  certification: null,
  run: 'certification',
}

/** One entity as it stands at one revision. */
export type Entity<K extends EntityKind = EntityKind> = {
  [P in K]: { kind: P; id: Uuid; parentId: Uuid | null; revision: number; removed: boolean; body: EntityBody<P> }
}[K]

const entitySchema = <K extends EntityKind>(kind: K) =>
  z.strictObject({
    kind: z.literal(kind),
    id: Uuid,
    parentId: Uuid.nullable(),
    revision: z.number().int().positive(),
    removed: z.boolean(),
    body: ENTITY_SCHEMAS[kind],
  })

export const AnyEntity = z.discriminatedUnion('kind', [
  entitySchema('project'),
  entitySchema('person'),
  entitySchema('facility'),
  entitySchema('room'),
  entitySchema('zone'),
  entitySchema('terminal'),
  entitySchema('filter_element'),
  entitySchema('door'),
  entitySchema('air_system'),
  entitySchema('instrument'),
  entitySchema('calibration'),
  entitySchema('criteria_set'),
  entitySchema('import_mapping'),
  entitySchema('certification'),
  entitySchema('run'),
])
