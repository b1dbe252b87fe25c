import type { Uuid } from '#core/model/values.ts'
import { externalState } from '../app/external-state.ts'
import { createOutbox, type Outbox, type OutboxOptions } from './outbox.ts'
import { countOf, type Outgoing } from './outgoing.ts'
import { createShelf, type Storage, shelvedRuns } from './shelf.ts'

/** What of a run is typed and not acknowledged yet, counted in readings and steps. */
export type Unsent = { readonly waiting: number; readonly refused: number }

/** Over all runs that have something unsent, on their screen or off it. */
export const unsentByRun = externalState<ReadonlyMap<Uuid, Unsent>>(new Map())

/** Tells the window what a run's queue holds now. */
export function tellUnsent(runId: Uuid, items: readonly Outgoing[]): void {
  const before = unsentByRun.get()
  if (items.length === 0 && !before.has(runId)) return
  const next = new Map(before)
  const refused = items.filter((item) => item.refused !== null)
  if (items.length === 0) next.delete(runId)
  else next.set(runId, { waiting: countOf(items) - countOf(refused), refused: countOf(refused) })
  unsentByRun.set(next)
}

export type CourierOptions = {
  readonly storage: Storage
  readonly send: (runId: Uuid, item: Outgoing) => ReturnType<OutboxOptions['send']>
  readonly wait: OutboxOptions['wait']
}

/**
 * Carries on with the queues of runs whose screen is left: what was typed is told to the project as soon as it can be, wherever the person is
 * by then. The screen of a run takes its queue over with {@link Courier.release} and hands it back with {@link Courier.giveBack}; both find
 * it on the shelf, and a command told twice is stored once.
 */
export type Courier = ReturnType<typeof createCourier>

export function createCourier({ storage, send, wait }: CourierOptions) {
  const carried = new Map<Uuid, Outbox>()
  const onScreen = new Set<Uuid>()
  const take = (runId: Uuid) => {
    const shelf = createShelf(storage, runId)
    if (onScreen.has(runId) || carried.has(runId) || shelf.load().length === 0) return
    tellUnsent(runId, shelf.load())
    const outbox = createOutbox({
      shelf,
      wait,
      send: (item) => send(runId, item),
      onDone: () => undefined,
      onChange: ({ items }) => {
        tellUnsent(runId, items)
        if (items.length > 0) return
        outbox.close()
        carried.delete(runId)
      },
    })
    carried.set(runId, outbox)
  }
  return {
    /** runs with something on their shelf, in whatever project */
    shelved: (): Uuid[] => shelvedRuns(storage),
    release: (runId: Uuid): void => {
      onScreen.add(runId)
      carried.get(runId)?.close()
      carried.delete(runId)
    },
    giveBack: (runId: Uuid): void => {
      onScreen.delete(runId)
      take(runId)
    },
    take,
    /** puts everything down, as when another project is opened; the shelves keep it */
    rest: (): void => {
      for (const outbox of carried.values()) outbox.close()
      carried.clear()
      unsentByRun.set(new Map())
    },
  }
}
