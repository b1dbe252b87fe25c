import type { EntityBody, EntityKind } from './entities.ts'
import { checkBody, type RuleProblem } from './rules.ts'

/** Rules that came after the first files. */
const LATER_RULES: ReadonlySet<RuleProblem['code']> = new Set(['rule.difference_shifted', 'rule.scope_does_not_fit', 'rule.no_such_air'])

/**
 * The rules of {@link checkBody} for a body that an earlier program may have written: a rule that came later is held against what is
 * written now, never against what stands in a file, because that can no longer be changed.
 */
export function checkStoredBody<K extends EntityKind>(kind: K, body: EntityBody<K>): RuleProblem[] {
  return checkBody(kind, body).filter(({ code }) => !LATER_RULES.has(code))
}
