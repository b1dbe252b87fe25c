import type { Reading } from '#core/model/readings.ts'
import type { Sentence } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import type { Outgoing, OutgoingReading, OutgoingRecord } from './outgoing.ts'

export type Answer =
  | { readonly kind: 'done'; readonly readings: readonly Reading[] }
  /** the project said no; repeating it as it is will not help */
  | { readonly kind: 'refused'; readonly sentence: Sentence }
  /** no answer, or one that may change by itself: try again, with the same command */
  | { readonly kind: 'unreachable'; readonly sentence: Sentence | null }

export type OutboxState = {
  readonly items: readonly Outgoing[]
  readonly sending: Uuid | null
  /** set while the connection is down */
  readonly stalled: { readonly sentence: Sentence | null; readonly tries: number } | null
}

/** Where unsent readings outlive the page. */
export type Shelf = { readonly load: () => readonly Outgoing[]; readonly save: (items: readonly Outgoing[]) => void }

export type OutboxOptions = {
  readonly shelf: Shelf
  readonly send: (item: Outgoing) => Promise<Answer>
  /** calls back after so many milliseconds; returns how to call it off */
  readonly wait: (milliseconds: number, then: () => void) => () => void
  readonly onDone: (item: Outgoing, readings: readonly Reading[]) => void
  readonly onChange: (state: OutboxState) => void
}

export type Outbox = {
  readonly state: () => OutboxState
  readonly add: (item: Outgoing) => void
  /** takes back the newest record, if it has never been sent; returns it */
  readonly takeBack: () => OutgoingRecord | null
  /** sends a refused item again, with a reason where one was asked for; or at once when the connection was down */
  readonly retry: (commandId?: Uuid, reason?: string) => void
  /** gives up a refused item */
  readonly discard: (commandId: Uuid) => void
  readonly close: () => void
}

const LONGEST_WAIT_MS = 5_000

/**
 * The queue between the keys and the project file: in order, one at a time, kept on a shelf until the project has acknowledged each
 * item, repeated under the same command identity so that nothing is lost and nothing is stored twice.
 */
export function createOutbox(options: OutboxOptions): Outbox {
  let state: OutboxState = { items: options.shelf.load(), sending: null, stalled: null }
  let callOff: (() => void) | null = null
  let closed = false

  const set = (next: OutboxState) => {
    const itemsChanged = next.items !== state.items
    state = next
    if (itemsChanged) options.shelf.save(state.items)
    options.onChange(state)
  }

  const pump = async () => {
    if (closed || state.sending !== null || callOff) return
    const item = nextToSend(state.items)
    if (!item) return
    set({ ...state, sending: item.commandId, items: state.items.map((other) => (other === item ? { ...other, sent: true } : other)) })
    const answer = await options.send(item)
    if (closed) return
    if (answer.kind === 'done') {
      // First the stored readings, then the queue without them: so that no number is ever missing in between.
      options.onDone(item, answer.readings)
      const rest = state.items.filter((other) => other.commandId !== item.commandId)
      set({ items: withKnownReadings(rest, item.commandId, answer.readings), sending: null, stalled: null })
    } else if (answer.kind === 'refused') {
      set({ items: marked(state.items, item.commandId, answer.sentence), sending: null, stalled: null })
    } else {
      const tries = (state.stalled?.tries ?? 0) + 1
      set({ ...state, sending: null, stalled: { sentence: answer.sentence, tries } })
      callOff = options.wait(Math.min(LONGEST_WAIT_MS, 250 * 2 ** Math.min(tries, 10)), again)
      return
    }
    void pump()
  }
  const again = () => {
    callOff = null
    void pump()
  }

  void pump()
  return {
    state: () => state,
    add: (item) => {
      set({ ...state, items: [...state.items, item] })
      void pump()
    },
    takeBack: () => {
      const newest = state.items.at(-1)
      if (newest?.kind !== 'record' || newest.sent) return null
      set({ ...state, items: state.items.slice(0, -1) })
      return newest
    },
    retry: (commandId, reason) => {
      const asked = (item: Outgoing) => (item.commandId === commandId ? { ...item, refused: null, reason: reason ?? item.reason } : item)
      if (commandId !== undefined) set({ ...state, items: state.items.map(asked) })
      callOff?.()
      again()
    },
    discard: (commandId) => {
      const given = state.items.find((item) => item.commandId === commandId && item.refused !== null)
      if (!given) return
      const rest = state.items.filter((item) => item !== given)
      set({ ...state, items: given.kind === 'record' ? withoutRecord(rest, given) : rest })
      void pump()
    },
    close: () => {
      closed = true
      callOff?.()
    },
  }
}

const marked = (items: readonly Outgoing[], commandId: Uuid, refused: Sentence | null): readonly Outgoing[] =>
  items.map((item) => (item.commandId === commandId ? { ...item, refused } : item))

const waitsFor = (item: Outgoing, commandId: Uuid): boolean =>
  item.kind === 'record' && item.entries.some((entry) => entry.replaces?.by === 'command' && entry.replaces.id === commandId)

/** The oldest item that is neither refused nor built on a refused one. */
function nextToSend(items: readonly Outgoing[]): Outgoing | undefined {
  const held = new Set<Uuid>()
  for (const item of items) {
    if (item.refused !== null || [...held].some((commandId) => waitsFor(item, commandId))) held.add(item.commandId)
    else return item
  }
  return undefined
}

function relinked(
  items: readonly Outgoing[],
  commandId: Uuid,
  link: (entry: OutgoingReading) => OutgoingReading['replaces'],
): readonly Outgoing[] {
  return items.map((item) => {
    if (item.kind !== 'record' || !waitsFor(item, commandId)) return item
    return {
      ...item,
      entries: item.entries.map((entry) =>
        entry.replaces?.by === 'command' && entry.replaces.id === commandId ? { ...entry, replaces: link(entry) } : entry,
      ),
    }
  })
}

/** Once a command is acknowledged, what waits to replace its readings learns their identity. */
function withKnownReadings(items: readonly Outgoing[], commandId: Uuid, readings: readonly Reading[]): readonly Outgoing[] {
  return relinked(items, commandId, (entry) => {
    const stored = readings.find((reading) => samePlace(reading, entry))
    return stored ? { by: 'reading', id: stored.id } : null
  })
}

/** When a record is given up, what would have replaced it replaces what it would have replaced. */
function withoutRecord(items: readonly Outgoing[], given: OutgoingRecord): readonly Outgoing[] {
  return relinked(items, given.commandId, (entry) => given.entries.find((other) => samePlace(other, entry))?.replaces ?? null)
}

const samePlace = (a: { point: number; sample: number }, b: { point: number; sample: number }): boolean =>
  a.point === b.point && a.sample === b.sample
