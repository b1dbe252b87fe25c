import type { AuditEntry } from '#core/model/audit.ts'
import type { Session } from './session.ts'

export function listTrail(
  session: Session,
  input: { about: string | null; before: { segmentId: string; number: number } | null; limit: number },
): { entries: AuditEntry[]; more: boolean } {
  const { trail } = session.stores
  const before = input.before === null ? null : trail.idAt(input.before.segmentId, input.before.number)
  // One more than asked for tells whether there are more.
  const found = trail.list({ about: input.about, before, limit: input.limit + 1 })
  return { entries: found.slice(0, input.limit).map(({ entry }) => entry), more: found.length > input.limit }
}
