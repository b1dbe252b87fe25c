import { startingCriteriaSets } from '#core/criteria/starting-sets.ts'
import type { FullExchange } from '#core/model/exchange.ts'

/** Fields of bodies and rows that hold what a person wrote, in his own words. */
const WRITTEN = new Set([
  'name',
  'number',
  'tag',
  'note',
  'why',
  'reason',
  'address',
  'organisation',
  'timeZone',
  'serialNumber',
  'model',
  'certificateNumber',
  'laboratory',
  'title',
  'source',
  'airHandler',
  'doors',
  'how',
  'equipment',
])

/** Every text that people typed into a project, longest first. */
export function typedTexts(exchange: Pick<FullExchange, 'entities' | 'readings' | 'attachments' | 'trail'>): string[] {
  const texts = new Set<string>()
  const gather = (value: unknown, field: string): void => {
    if (typeof value === 'string') {
      if (WRITTEN.has(field) && value.trim() !== '') texts.add(value.trim())
    } else if (Array.isArray(value)) for (const item of value) gather(item, field)
    else if (typeof value === 'object' && value !== null) for (const [name, item] of Object.entries(value)) gather(item, name)
  }
  for (const entity of exchange.entities) for (const { body } of entity.revisions) gather(body, '')
  gather(exchange.readings, '')
  gather(exchange.attachments, '')
  for (const { body } of exchange.trail) if ('reason' in body) gather(body.reason, 'reason')
  // Proposed to be adopted and edited, these are data of the program, as a person would write them.
  gather(startingCriteriaSets(), '')
  return [...texts].sort((a, b) => b.length - a.length)
}
