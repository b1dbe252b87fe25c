import { z } from 'zod'
import { CommandName } from '../model/audit.ts'
import { AnyEntity, ENTITY_SCHEMAS, EntityKind } from '../model/entities.ts'
import { Uuid } from '../model/values.ts'
import { base, Command } from './base.ts'

const change = <K extends EntityKind>(kind: K) =>
  z.strictObject({
    kind: z.literal(kind),
    id: Uuid.describe('made by the page for a new one'),
    parentId: Uuid.nullable(),
    revision: z.number().int().nullable().describe('the revision this change was made on; null creates'),
    body: ENTITY_SCHEMAS[kind].nullable().describe('null removes'),
  })

/** Kinds that a page edits directly; runs have commands of their own. */
export const EntityChange = z.discriminatedUnion('kind', [
  change('project'),
  change('person'),
  change('facility'),
  change('room'),
  change('zone'),
  change('terminal'),
  change('filter_element'),
  change('door'),
  change('air_system'),
  change('instrument'),
  change('calibration'),
  change('criteria_set'),
  change('import_mapping'),
  change('certification'),
])

export type EntityChange = z.infer<typeof EntityChange>

export const entities = {
  list: base
    .input(
      z.strictObject({
        kinds: z.array(EntityKind).min(1),
        within: Uuid.nullable().describe('an ancestor, or null for all'),
        removed: z.boolean().default(false),
      }),
    )
    .output(z.array(AnyEntity)),
  revisions: base
    .input(z.strictObject({ id: Uuid }))
    .output(z.array(z.strictObject({ entity: AnyEntity, at: z.string(), personId: Uuid, reason: z.string() }))),
  change: base
    .input(z.strictObject({ command: Command, name: CommandName, scope: z.string(), changes: z.array(EntityChange).min(1) }))
    .output(z.array(AnyEntity)),
}

export const commands = {
  undo: base
    .input(z.strictObject({ command: Command, scope: z.string() }))
    .output(z.strictObject({ undone: CommandName, commandId: Uuid })),
  redo: base
    .input(z.strictObject({ command: Command, scope: z.string() }))
    .output(z.strictObject({ redone: CommandName, commandId: Uuid })),
  state: base
    .input(z.strictObject({ personId: Uuid, scope: z.string() }))
    .output(z.strictObject({ undo: CommandName.nullable(), redo: CommandName.nullable() })),
}
