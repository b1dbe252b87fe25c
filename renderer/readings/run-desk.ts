import type { Reading } from '#core/model/readings.ts'
import type { Sentence } from '#core/model/results.ts'
import type { Unit, Uuid } from '#core/model/values.ts'
import { type Answer, createOutbox, type Outbox, type OutboxOptions, type OutboxState } from './outbox.ts'
import type { Outgoing, OutgoingReading, OutgoingRecord } from './outgoing.ts'
import { createReadingBook, type PlacedReading, type ReadingBook } from './reading-book.ts'
import type { FilterPlan, RunPlan } from './run-plan.ts'
import {
  type Board,
  keyOf,
  type Place,
  placeToStart,
  startTyping,
  stepTyping,
  type TypingEvent,
  type TypingState,
  type Understanding,
} from './typing.ts'

/** One filter as it stands: a new object whenever one of its numbers changed, the same one otherwise. */
export type FilterView = {
  readonly filter: FilterPlan
  readonly readings: ReadonlyMap<string, PlacedReading>
  readonly filled: number
  readonly places: number
  readonly unsaved: number
  readonly refused: number
}

export type DeskHooks = {
  /** who types, with what, now; the point says what is read there, null that nothing is */
  readonly signature: (point: number | null) => { commandId: Uuid; personId: Uuid; instrumentId: Uuid; at: string } | null
  readonly understand: (text: string, place: Place) => Understanding
  readonly send: (item: Outgoing) => Promise<Answer>
  /** asks for all readings again, after an undo or a change made elsewhere */
  readonly reload: () => void
  readonly acknowledged: (item: Outgoing) => void
  readonly shelf: OutboxOptions['shelf']
  readonly wait: OutboxOptions['wait']
}

/** What a reading may say beside its number. */
export type Extra = { readonly note?: string; readonly reason?: string }

/** The bench of one run: what is typed, what is stored, what waits. Pages subscribe; nothing here draws. */
export type RunDesk = ReturnType<typeof createRunDesk>

export function createRunDesk(
  firstPlan: RunPlan,
  readings: readonly Reading[],
  hooks: DeskHooks,
  remembered: { at: Place | null; drafts: Readonly<Record<string, string>> } | null,
) {
  const book: ReadingBook = createReadingBook(readings)
  const views = new Map<Uuid, FilterView>()
  const listeners = new Set<() => void>()
  let plan = firstPlan
  let undone: (OutgoingRecord | 'in_project')[] = []
  let reloadDue = false
  let reloadsOut = 0
  /** set while an undo or redo has not led the person to what it changed yet */
  let follow: { changed: Place | null } | null = null
  /** answers that the project gave so far, and how many of them the readings taken over last had seen */
  let answers = 0
  let taken = 0
  let pendingNote: { place: Place; note: string } | null = null

  const notify = () => {
    for (const listener of listeners) listener()
  }
  const forget = (points: Iterable<number>) => {
    for (const point of points) {
      const terminalId = plan.terminalOfPoint.get(point)
      if (terminalId) views.delete(terminalId)
    }
  }

  let typing: TypingState = startTyping(null)
  let outboxState: OutboxState = { items: hooks.shelf.load(), sending: null, stalled: null }
  book.overlay(outboxState)

  const boardOf = (): Board => ({
    path: plan.path,
    samplesPerPoint: plan.run.body.samplesPerPoint,
    filled: (place) => book.at(place) !== null,
    read: hooks.understand,
  })
  let board = boardOf()
  const latest = book.latest()
  typing = { ...startTyping(placeToStart(board, remembered?.at ?? null, latest)), drafts: remembered?.drafts ?? {} }

  const outbox: Outbox = createOutbox({
    shelf: hooks.shelf,
    wait: hooks.wait,
    send: hooks.send,
    onChange: (next) => {
      outboxState = next
      forget(book.overlay(next))
      notify()
      if (!reloadDue) return
      reloadDue = false
      reloadsOut += 1
      hooks.reload()
    },
    onDone: (item, answered) => {
      answers += 1
      if (item.kind === 'record') {
        book.acknowledge(answered, answers)
        forget(answered.map((reading) => reading.point))
      } else {
        // Asked for once the queue is without this step, so that the answer finds it settled.
        reloadDue = true
        follow = { changed: follow?.changed ?? null }
      }
      hooks.acknowledged(item)
      notify()
    },
  })

  const outgoing = (place: Place, value: { typed: string; unit: Unit; si: number }, note: string): OutgoingReading => ({
    ...place,
    ...value,
    replaces: book.at(place)?.identity ?? null,
    note,
  })
  const record = (entries: readonly OutgoingReading[], reason: string): boolean => {
    const [first] = entries
    const signature = first ? hooks.signature(first.point) : null
    if (!signature) return false
    undone = []
    outbox.add({ kind: 'record', ...signature, reason, sent: false, refused: null, entries: [...entries] })
    return true
  }
  const setTyping = (next: TypingState) => {
    if (next === typing) return
    typing = next
    notify()
  }

  return {
    plan: () => plan,
    subscribe: (listener: () => void) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    typing: () => typing,
    outbox: () => outboxState,
    board: () => board,
    stored: book.stored,
    at: book.at,
    view: (terminalId: Uuid): FilterView | null => {
      const known = views.get(terminalId)
      if (known) return known
      const filter = plan.filterOf.get(terminalId)
      if (!filter) return null
      const view = viewOf(filter, plan.run.body.samplesPerPoint, book)
      views.set(terminalId, view)
      return view
    },
    type: (event: TypingEvent): Place | null => {
      const step = stepTyping(typing, event, board)
      if (step.commit) {
        const note = pendingNote && keyOf(pendingNote.place) === keyOf(step.commit.place) ? pendingNote.note : ''
        if (!record([outgoing(step.commit.place, step.commit.value, note)], '')) return null
        pendingNote = null
      }
      setTyping(step.state)
      return step.commit?.place ?? null
    },
    /** Writes a note at a place: with the number that is being typed, or by recording the stored number again with its note. */
    note: (place: Place, note: string, reason: string) => {
      const reading = book.at(place)
      if (reading) record([outgoing(place, { typed: reading.typed, unit: reading.unit, si: reading.si }, note)], reason)
      else pendingNote = note === '' ? null : { place, note }
      notify()
    },
    noteAt: (place: Place): string =>
      book.at(place)?.note ?? (pendingNote && keyOf(pendingNote.place) === keyOf(place) ? pendingNote.note : ''),
    paste: (values: readonly { place: Place; value: { typed: string; unit: Unit; si: number } }[], reason: string) => {
      if (
        !record(
          values.map(({ place, value }) => outgoing(place, value, '')),
          reason,
        )
      )
        return
      const last = values.at(-1)
      if (last) setTyping({ ...typing, at: placeToStart(board, null, last.place), problem: null, returnTo: null, repeating: null })
    },
    undo: () => {
      const back = outbox.takeBack()
      const first = back?.entries[0]
      if (back && first) {
        undone.push(back)
        setTyping({ ...typing, at: { point: first.point, sample: first.sample }, problem: null, returnTo: null })
        return
      }
      const signature = hooks.signature(null)
      if (!signature) return
      undone.push('in_project')
      const { instrumentId: _none, ...who } = signature
      outbox.add({ kind: 'undo', ...who, reason: '', sent: false, refused: null })
    },
    redo: () => {
      const signature = hooks.signature(null)
      if (!signature) return
      const last = undone.pop()
      if (last && last !== 'in_project') {
        const kept = undone
        record(last.entries, last.reason)
        undone = kept
        const place = last.entries.at(-1)
        if (place) setTyping({ ...typing, at: placeToStart(board, null, place), problem: null })
        return
      }
      const { instrumentId: _none, ...who } = signature
      outbox.add({ kind: 'redo', ...who, reason: '', sent: false, refused: null })
    },
    canTakeBack: (): boolean => {
      const newest = outboxState.items.at(-1)
      return newest?.kind === 'record' && !newest.sent
    },
    canRedoHere: (): boolean => undone.length > 0,
    retry: outbox.retry,
    discard: outbox.discard,
    /** answers of the project so far: with it goes the question for all readings, whose answer may be older than later ones */
    answers: () => answers,
    /**
     * Takes over the run and its readings anew, as they stood after so many answers: what was saved while they were on their way stays. After an
     * undo the person is led to what it changed. Answers false where something newer was taken over already.
     */
    reloaded: (next: RunPlan, all: readonly Reading[], seen: number): boolean => {
      if (seen < taken) {
        reloadsOut = Math.max(0, reloadsOut - 1)
        return false
      }
      taken = seen
      plan = next
      board = boardOf()
      const changed = book.replaceAll(all, seen)
      if (typing.at && !plan.terminalOfPoint.has(typing.at.point)) typing = startTyping(placeToStart(board, null, book.latest()))
      views.clear()
      reloadsOut = Math.max(0, reloadsOut - 1)
      if (follow) {
        const to = changed ?? follow.changed
        // Of several steps in a row, the last one says where to go.
        follow = { changed: to }
        if (outboxState.items.length === 0) {
          if (to) typing = { ...typing, at: book.at(to) ? placeToStart(board, null, to) : to, problem: null, returnTo: null }
          if (reloadsOut === 0) follow = null
        }
      }
      notify()
      return true
    },
    close: outbox.close,
  }
}

/** A refusal of the understanding hook, for places that cannot take a number now. */
export const refusal = (problem: Sentence): Understanding => ({ ok: false, problem })

function viewOf(filter: FilterPlan, samplesPerPoint: number, book: ReadingBook): FilterView {
  const readings = new Map<string, PlacedReading>()
  let unsaved = 0
  let refused = 0
  for (const point of filter.points) {
    for (let sample = 1; sample <= samplesPerPoint; sample += 1) {
      const place = { point: point.number, sample }
      const reading = book.at(place)
      if (!reading) continue
      readings.set(keyOf(place), reading)
      if (reading.saved === 'refused') refused += 1
      else if (reading.saved !== 'saved') unsaved += 1
    }
  }
  return { filter, readings, filled: readings.size, places: filter.points.length * samplesPerPoint, unsaved, refused }
}
