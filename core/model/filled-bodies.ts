import { z } from 'zod'
import { ENTITY_SCHEMAS, type EntityBody, type EntityKind } from './entities.ts'
import { readBody } from './stored-bodies.ts'

/** Adds in place what a stored value lacks; answers the value, or the default where there is none. */
type Fill = (value: unknown) => unknown

type Fields = Record<string, unknown>

function isObject(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

/** What a schema's values may lack: null where nothing in it has a default, 'unknown' where that cannot be told from the schema. */
function fillOf(schema: unknown): Fill | null | 'unknown' {
  if (schema instanceof z.ZodDefault) {
    const inner = fillOf(schema.def.innerType)
    if (inner === 'unknown') return inner
    return (value) => (value === undefined ? schema.def.defaultValue : inner ? inner(value) : value)
  }
  if (schema instanceof z.ZodNullable) return fillOf(schema.def.innerType)
  if (schema instanceof z.ZodArray) {
    const each = fillOf(schema.def.element)
    if (each === null || each === 'unknown') return each
    return (value) => (Array.isArray(value) ? value.map(each) : value)
  }
  if (schema instanceof z.ZodDiscriminatedUnion) return fillOfVariants(schema)
  if (schema instanceof z.ZodUnion) return schema.options.every((option) => fillOf(option) === null) ? null : 'unknown'
  if (schema instanceof z.ZodTuple) return schema.def.items.every((item) => fillOf(item) === null) ? null : 'unknown'
  if (schema instanceof z.ZodObject) return fillOfObject(schema)
  const plain = [z.ZodString, z.ZodISODate, z.ZodISODateTime, z.ZodNumber, z.ZodBoolean, z.ZodEnum, z.ZodLiteral]
  return plain.some((kind) => schema instanceof kind) ? null : 'unknown'
}

/** Each variant lacks what its own schema has since: the value says by its discriminator which one it is. */
function fillOfVariants({ def }: z.ZodDiscriminatedUnion): Fill | null | 'unknown' {
  const fills = new Map<unknown, Fill>()
  for (const option of def.options) {
    const fill = fillOf(option)
    if (fill === null) continue
    const discriminator = option instanceof z.ZodObject ? option.shape[def.discriminator] : null
    if (fill === 'unknown' || !(discriminator instanceof z.ZodLiteral)) return 'unknown'
    for (const value of discriminator.values) fills.set(value, fill)
  }
  if (fills.size === 0) return null
  return (value) => (isObject(value) ? (fills.get(value[def.discriminator])?.(value) ?? value) : value)
}

function fillOfObject(schema: z.ZodObject): Fill | null | 'unknown' {
  const fields: (readonly [string, Fill])[] = []
  for (const [name, field] of Object.entries(schema.shape)) {
    const fill = fillOf(field)
    if (fill === 'unknown') return fill
    if (fill) fields.push([name, fill])
  }
  if (fields.length === 0) return null
  return (value) => {
    if (!isObject(value)) return value
    for (const [name, fill] of fields) {
      const before = value[name]
      const filled = fill(before)
      if (filled !== before) value[name] = filled
    }
    return value
  }
}

const FILLS = new Map<EntityKind, ReturnType<typeof fillOf>>()

/**
 * A body as it reads today, like {@link readBody}, without looking at its form again: that was checked when it was written. For pinned
 * revisions, which a calculation reads by the thousand. `parsed` is fresh from its text and is filled in place.
 */
export function fillBody<K extends EntityKind>(kind: K, parsed: unknown): EntityBody<K> {
  let fill = FILLS.get(kind)
  if (fill === undefined) {
    fill = fillOf(ENTITY_SCHEMAS[kind])
    FILLS.set(kind, fill)
  }
  if (fill === 'unknown') return readBody(kind, parsed)
  // The schema of this kind accepted the body when it was written.
  return (fill ? fill(parsed) : parsed) as EntityBody<K>
}
