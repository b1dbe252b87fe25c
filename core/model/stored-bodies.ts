import { ENTITY_SCHEMAS, type EntityBody, type EntityKind } from './entities.ts'

/**
 * Reads a body as it was stored, by this program or an earlier one, as a body of today: fields that came later take the default of
 * their schema. Pure; what is stored is never rewritten, because the trail's hashes cover it. A body that does not have the form of
 * its kind comes back as it is: `check` tells about it, and the rest of the project stays readable.
 */
export function readBody<K extends EntityKind>(kind: K, stored: unknown): EntityBody<K> {
  const read = ENTITY_SCHEMAS[kind].safeParse(stored)
  // The schema of this kind answered; where it refused, the body was written past this program, and nobody can say what it is.
  return (read.success ? read.data : stored) as EntityBody<K>
}
