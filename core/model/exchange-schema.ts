import { z } from 'zod'
import { ENTITY_SCHEMAS, type EntityKind } from './entities.ts'
import { EXCHANGE_FORMAT_VERSION, FullExchange, ShortEntity, ShortExchange } from './exchange.ts'
import { NEUTRAL } from './short-bodies.ts'

type Schema = { [name: string]: unknown }

/** The published JSON Schema (draft 2020-12) of the exchange form, made of the very schemas that read it. */
export function exchangeJsonSchema(): Schema {
  const full = plain(FullExchange)
  const short = plain(ShortExchange)
  const entities = shortEntitySchemas()
  replaceItems(short, 'entities', { anyOf: entities })
  const revised = (Object.keys(ENTITY_SCHEMAS) as EntityKind[]).map((kind) => ({
    title: kind,
    ...plain(ENTITY_SCHEMAS[kind]),
  }))
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: `Facegrid exchange form, version ${EXCHANGE_FORMAT_VERSION}`,
    description: 'A whole certification project: in full, as export writes it, or short, as a person or a laboratory system writes it.',
    oneOf: [full, short],
    $defs: Object.fromEntries(revised.map((schema) => [`body_${schema.title}`, schema])),
  }
}

function plain(schema: z.ZodType): Schema {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' })
  return rest
}

/** One schema for each kind: neutral fields and the SI value of entered values may be left out. */
function shortEntitySchemas(): Schema[] {
  return ShortEntity.shape.kind.options.map((kind) => {
    const body = plain(ENTITY_SCHEMAS[kind])
    const neutral = new Set(Object.keys(NEUTRAL[kind]))
    const required = Array.isArray(body.required) ? body.required.filter((name) => !neutral.has(String(name))) : []
    return {
      title: kind,
      type: 'object',
      properties: {
        kind: { const: kind },
        id: plain(ShortEntity.shape.id),
        parentId: plain(ShortEntity.shape.parentId),
        body: kind === 'calibration' ? withMonths(withoutSi({ ...body, required })) : withoutSi({ ...body, required }),
      },
      required: ['kind', 'id', 'body'],
      additionalProperties: false,
    }
  })
}

function withoutSi(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutSi)
  if (!isObject(value)) return value
  const walked = Object.fromEntries(Object.entries(value).map(([name, item]) => [name, withoutSi(item)]))
  const isEntered = isObject(value.properties) && 'si' in value.properties && 'typed' in value.properties
  return isEntered && Array.isArray(walked.required) ? { ...walked, required: walked.required.filter((name) => name !== 'si') } : walked
}

/** A due date may name a month alone in the short form. */
function withMonths(body: unknown): unknown {
  if (!isObject(body) || !isObject(body.properties)) throw new Error('a body is an object')
  const month = { type: 'string', pattern: '^\\d{4}-(0[1-9]|1[0-2])$', description: 'a month stands for its last day' }
  return { ...body, properties: { ...body.properties, dueOn: { anyOf: [body.properties.dueOn, month] } } }
}

function replaceItems(schema: Schema, property: string, items: Schema): void {
  const properties = schema.properties
  if (!isObject(properties)) throw new Error('an exchange form is an object')
  const list = properties[property]
  if (!isObject(list)) throw new Error(`${property} is a list`)
  list.items = items
}

function isObject(value: unknown): value is Schema {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
