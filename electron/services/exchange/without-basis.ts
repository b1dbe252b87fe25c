import { message } from '#core/messages/say.ts'
import type { Exchange } from '#core/model/exchange.ts'
import type { Sentence } from '#core/model/results.ts'

/** The bodies of the criteria sets that a file brings, as they stand now. */
function setsOf(exchange: Exchange): readonly Record<string, unknown>[] {
  if (exchange.form === 'short') return exchange.entities.flatMap(({ kind, body }) => (kind === 'criteria_set' ? [body] : []))
  return exchange.entities.flatMap(({ kind, revisions }) => {
    const body = revisions.at(-1)?.body
    return kind === 'criteria_set' && body ? [body] : []
  })
}

function lacksBasis(criterion: unknown): boolean {
  return typeof criterion === 'object' && criterion !== null && !('basis' in criterion)
}

/**
 * What a person has to be told of criteria that do not say which air they speak of. Files of before have none and keep their verdicts, so
 * such a criterion is held against figures as indicated; somebody who writes a new file may have meant actual air. Null where all say so.
 */
export function withoutBasis(exchange: Exchange): Sentence | null {
  const lacking = setsOf(exchange).flatMap(({ name, criteria }) => {
    const count = Array.isArray(criteria) ? criteria.filter(lacksBasis).length : 0
    return count === 0 ? [] : [{ name: String(name), count }]
  })
  if (lacking.length === 0) return null
  const criteria = lacking.reduce((sum, { count }) => sum + count, 0)
  return message('exchange.no_basis', { criteria, sets: lacking.map(({ name }) => name) })
}
