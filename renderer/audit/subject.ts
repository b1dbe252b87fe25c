import type { AuditChange, AuditEntry } from '#core/model/audit.ts'
import type { Uuid } from '#core/model/values.ts'
import { isPlain } from './differences.ts'

const NAMING_FIELDS = ['number', 'tag', 'name', 'certificateNumber', 'serialNumber'] as const

/** What people call a thing, from its body as the trail holds it; null when it has no name of its own. */
export function labelOf(body: unknown): string | null {
  if (!isPlain(body)) return null
  for (const field of NAMING_FIELDS) {
    const value = body[field]
    if (typeof value === 'string' && value !== '') return value
  }
  return null
}

export type Subject = { readonly id: Uuid; readonly kind: string; readonly label: string | null }

function subjectOf(change: AuditChange): Subject {
  switch (change.what) {
    case 'entity':
      return { id: change.id, kind: change.kind, label: labelOf(change.after) ?? labelOf(change.before) }
    case 'attachment':
      return { id: change.ownerId, kind: 'attachment', label: change.name }
    case 'reading':
    case 'void':
    case 'readings':
    case 'voids':
    case 'layout':
    case 'pin':
    case 'results':
      return { id: change.runId, kind: 'run', label: null }
  }
}

/** The things an entry is about, each once, in the order they appear. */
export function subjectsOf(entry: AuditEntry): Subject[] {
  const seen = new Map<Uuid, Subject>()
  for (const change of entry.changes) {
    const subject = subjectOf(change)
    if (!seen.has(subject.id)) seen.set(subject.id, subject)
  }
  return [...seen.values()]
}
