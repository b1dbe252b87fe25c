import type { EntityBody, EntityKind } from '#core/model/entities.ts'
import { checkBody } from '#core/model/rules.ts'
import { problem } from '../project-file/problem.ts'

/** Refuses a body that breaks a rule beyond its schema; the first field is named, so that the page marks it. */
export function checkWritten(kind: EntityKind, body: EntityBody, field: string): void {
  const [broken] = checkBody(kind, body)
  if (broken) throw problem('invalid_input', broken, { field: `${field}.${broken.field}` })
}
