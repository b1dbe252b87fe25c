import { v7 } from 'uuid'
import type { Command } from '#core/api/base.ts'
import type { Uuid } from '#core/model/values.ts'

/** Stands for nobody; the engine refuses a change by it. */
const NOBODY: Uuid = '00000000-0000-0000-0000-000000000000'

let personId: Uuid | null = null

export function setCurrentPerson(id: Uuid | null): void {
  personId = id
}

/** A fresh identity for something new. */
export function newId(): Uuid {
  return v7()
}

/**
 * The head of a change: a fresh identity and the person working now. Make one per act of the person and keep it when the same act is
 * sent again, so that it is never done twice.
 */
export function newCommand(reason = ''): Command {
  return { id: newId(), personId: personId ?? NOBODY, reason }
}
