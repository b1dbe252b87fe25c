import { z } from 'zod'
import { Quantity, Uuid } from '#core/model/values.ts'
import { Outgoing } from './outgoing.ts'

/** The part of the browser's storage that a shelf needs. */
export type Storage = Pick<globalThis.Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>

const Shelved = z.array(Outgoing)
const Stand = z.object({
  at: z.object({ point: z.number().int(), sample: z.number().int() }).nullable(),
  drafts: z.record(z.string(), z.string().max(40)),
  turns: z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3)]),
  instrumentId: z.string().nullable().default(null).describe('the one instrument of earlier programs, which held velocities alone'),
  held: z.partialRecord(Quantity, Uuid).default({}),
})
/** Where the person stood on a run: the place, what was half typed, how the view was turned, the instruments in the hand. */
export type Stand = z.infer<typeof Stand>

const UNSENT = 'facegrid.unsent.'

/** The runs that have unsent readings on their shelf, of any project. */
export function shelvedRuns(storage: Storage): Uuid[] {
  const runs: Uuid[] = []
  for (let index = 0; index < storage.length; index += 1) {
    const key = storage.key(index)
    if (key?.startsWith(UNSENT)) runs.push(key.slice(UNSENT.length))
  }
  return runs
}

/** Unsent readings and the person's stand, kept for one run until they are no longer needed. Survives a reload and a restart. */
export function createShelf(storage: Storage, runId: string) {
  const unsentKey = `${UNSENT}${runId}`
  const standKey = `facegrid.stand.${runId}`
  return {
    load: (): readonly Outgoing[] => parsed(storage, unsentKey, Shelved) ?? [],
    save: (items: readonly Outgoing[]) => (items.length === 0 ? storage.removeItem(unsentKey) : put(storage, unsentKey, items)),
    loadStand: (): Stand | null => parsed(storage, standKey, Stand),
    saveStand: (stand: Stand) => put(storage, standKey, stand),
  }
}

function put(storage: Storage, key: string, value: unknown): void {
  try {
    storage.setItem(key, JSON.stringify(value))
  } catch {
    // A full or forbidden storage takes away the second net only: the page itself still holds everything until it is acknowledged.
  }
}

function parsed<T>(storage: Storage, key: string, schema: z.ZodType<T>): T | null {
  const text = storage.getItem(key)
  if (text === null) return null
  try {
    const result = schema.safeParse(JSON.parse(text))
    return result.success ? result.data : null
  } catch {
    return null
  }
}
