import type { Entity } from '#core/model/entities.ts'

/** The visit that started last; of two on one day the one made later (identities are ordered in time). Null when there is none. */
export function latestCertification(certifications: readonly Entity<'certification'>[]): Entity<'certification'> | null {
  return certifications.reduce<Entity<'certification'> | null>(
    (latest, candidate) => (latest && !isLater(candidate, latest) ? latest : candidate),
    null,
  )
}

/** Newest first, for lists. */
export function newestFirst(certifications: readonly Entity<'certification'>[]): Entity<'certification'>[] {
  return [...certifications].sort((a, b) => (isLater(a, b) ? -1 : 1))
}

function isLater(a: Entity<'certification'>, b: Entity<'certification'>): boolean {
  return a.body.startsOn === b.body.startsOn ? a.id > b.id : a.body.startsOn > b.body.startsOn
}
