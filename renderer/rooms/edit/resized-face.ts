import type { EntityBody } from '#core/model/entities.ts'
import { proposedEffectiveArea } from './fresh-bodies.ts'

type Body = EntityBody<'terminal'>

/** The face with another size. An effective area that the program had proposed follows; one that was typed stays. */
export function resized(body: Body, size: Partial<Pick<Body, 'grossWidth' | 'grossDepth'>>): Body {
  const next = { ...body, ...size }
  const unit = body.effectiveArea.unit === 'ft2' ? 'ft2' : 'm2'
  const wasProposed = body.effectiveArea.si === proposedEffectiveArea(body.grossWidth.si, body.grossDepth.si, unit).si
  const positive = next.grossWidth.si > 0 && next.grossDepth.si > 0
  return wasProposed && positive ? { ...next, effectiveArea: proposedEffectiveArea(next.grossWidth.si, next.grossDepth.si, unit) } : next
}
