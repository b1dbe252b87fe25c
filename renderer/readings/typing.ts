import type { Sentence } from '#core/model/results.ts'
import type { Unit, Uuid } from '#core/model/values.ts'

/** One place that takes one number: a point of the run and the sample at it. */
export type Place = { readonly point: number; readonly sample: number }

/** A point of the path. `passedOver` points (a written reason for a missing filter) are not offered by themselves. */
export type PathPoint = { readonly point: number; readonly terminalId: Uuid; readonly passedOver: boolean }

/** A typed number as it was understood. */
export type Understood = { readonly typed: string; readonly unit: Unit; readonly si: number }
export type Understanding = { readonly ok: true; readonly value: Understood } | { readonly ok: false; readonly problem: Sentence }

/** What the typing needs to know of the run. */
export type Board = {
  readonly path: readonly PathPoint[]
  readonly samplesPerPoint: number
  readonly filled: (place: Place) => boolean
  /** understands or refuses what was typed for a place */
  readonly read: (text: string, place: Place) => Understanding
}

export type TypingState = {
  /** null: every point was passed, so that a further number cannot overwrite the last one by accident */
  readonly at: Place | null
  /** half typed numbers stay with their place while the person looks elsewhere */
  readonly drafts: Readonly<Record<string, string>>
  readonly problem: Sentence | null
  /** where the person stood when he went back to correct something */
  readonly returnTo: Place | null
  /** the filter that is being measured again from its first point */
  readonly repeating: Uuid | null
  readonly last: Place | null
}

export type TypingEvent =
  | { readonly kind: 'character'; readonly character: string }
  | { readonly kind: 'erase' }
  | { readonly kind: 'clear' }
  | { readonly kind: 'enter' }
  | { readonly kind: 'go'; readonly to: Place }
  | { readonly kind: 'repeat'; readonly terminalId: Uuid }

export type Commit = { readonly place: Place; readonly value: Understood }
export type Step = { readonly state: TypingState; readonly commit: Commit | null }

/** Longest number that a cell takes; a held key stops there. */
export const LONGEST_DRAFT = 12

export const keyOf = (place: Place): string => `${place.point}:${place.sample}`

/** Starts at a place, with nothing typed. */
export function startTyping(at: Place | null): TypingState {
  return { at, drafts: {}, problem: null, returnTo: null, repeating: null, last: null }
}

export function draftOf(state: TypingState): string {
  return state.at ? (state.drafts[keyOf(state.at)] ?? '') : ''
}

/** The typing event of a key, or null for a key that means something else. */
export function eventOfKey(key: string): TypingEvent | null {
  if (/^[0-9.,-]$/.test(key)) return { kind: 'character', character: key }
  if (key === 'Backspace') return { kind: 'erase' }
  if (key === 'Escape' || key === 'Delete') return { kind: 'clear' }
  if (key === 'Enter') return { kind: 'enter' }
  return null
}

/** One step of typing. Pure: what is to be saved comes back as `commit`. */
export function stepTyping(state: TypingState, event: TypingEvent, board: Board): Step {
  switch (event.kind) {
    case 'character':
      return still(withDraft(state, (draftOf(state) + event.character).slice(0, LONGEST_DRAFT)))
    case 'erase':
      return still(withDraft(state, draftOf(state).slice(0, -1)))
    case 'clear':
      return still(withDraft(state, ''))
    case 'go':
      return still(go(state, event.to, board))
    case 'repeat': {
      const first = board.path.find((point) => point.terminalId === event.terminalId)
      if (!first) return still(state)
      return still({ ...state, at: { point: first.point, sample: 1 }, problem: null, returnTo: null, repeating: event.terminalId })
    }
    case 'enter':
      return enter(state, board)
  }
}

const still = (state: TypingState): Step => ({ state, commit: null })

function withDraft(state: TypingState, text: string): TypingState {
  if (!state.at) return state
  const { [keyOf(state.at)]: _old, ...others } = state.drafts
  return { ...state, drafts: text === '' ? others : { ...others, [keyOf(state.at)]: text }, problem: null }
}

function go(state: TypingState, to: Place, board: Board): TypingState {
  const terminalOf = (place: Place) => board.path.find((point) => point.point === place.point)?.terminalId
  if (terminalOf(to) === undefined || to.sample < 1 || to.sample > board.samplesPerPoint) return state
  // Only a place that still waits for its number is worth coming back to.
  const waiting = state.at && !board.filled(state.at) ? state.at : state.returnTo
  return {
    ...state,
    at: to,
    problem: null,
    returnTo: board.filled(to) ? waiting : null,
    repeating: state.repeating === terminalOf(to) ? state.repeating : null,
  }
}

function enter(state: TypingState, board: Board): Step {
  const at = state.at
  if (!at) return still(state)
  const draft = draftOf(state)
  if (draft === '') {
    // A bouncing Enter must not skip a point: only a point that has its number lets go of an empty Enter.
    return still(board.filled(at) ? { ...state, at: following(state, at, board, true), problem: null, returnTo: null } : state)
  }
  const read = board.read(draft, at)
  if (!read.ok) return still({ ...state, problem: read.problem })
  const corrected = board.filled(at)
  const cleared = withDraft(state, '')
  return { commit: { place: at, value: read.value }, state: { ...advance(cleared, at, corrected, board), last: at } }
}

function advance(state: TypingState, at: Place, corrected: boolean, board: Board): TypingState {
  if (state.repeating) {
    const next = placeAfter(at, board)
    const inside = next && board.path.find((point) => point.point === next.point)?.terminalId === state.repeating
    if (inside) return { ...state, at: next }
    return { ...state, repeating: null, at: nextWaiting(at, board) }
  }
  if (corrected && state.returnTo && !board.filled(state.returnTo)) return { ...state, at: state.returnTo, returnTo: null }
  return { ...state, at: nextWaiting(at, board), returnTo: null }
}

function following(state: TypingState, at: Place, board: Board, filled: boolean): Place | null {
  if (state.repeating || !filled) return placeAfter(at, board) ?? at
  return state.returnTo && !board.filled(state.returnTo) ? state.returnTo : (placeAfter(at, board) ?? at)
}

/** The place after this one on the path, filled or not; null at the end. */
export function placeAfter(at: Place, board: Pick<Board, 'path' | 'samplesPerPoint'>): Place | null {
  if (at.sample < board.samplesPerPoint) return { point: at.point, sample: at.sample + 1 }
  const index = board.path.findIndex((point) => point.point === at.point)
  const next = index < 0 ? undefined : board.path[index + 1]
  return next ? { point: next.point, sample: 1 } : null
}

/** The next place on the path that waits for a number; `at` itself counts as done. Null when none is left ahead. */
export function nextWaiting(at: Place, board: Pick<Board, 'path' | 'samplesPerPoint' | 'filled'>): Place | null {
  for (let sample = at.sample + 1; sample <= board.samplesPerPoint; sample += 1) {
    const place = { point: at.point, sample }
    if (!board.filled(place)) return place
  }
  const index = board.path.findIndex((point) => point.point === at.point)
  return firstWaiting(board, index + 1)
}

/** The first place from `fromIndex` of the path on that waits for a number. */
export function firstWaiting(board: Pick<Board, 'path' | 'samplesPerPoint' | 'filled'>, fromIndex = 0): Place | null {
  for (const point of board.path.slice(fromIndex)) {
    if (point.passedOver) continue
    for (let sample = 1; sample <= board.samplesPerPoint; sample += 1) {
      const place = { point: point.point, sample }
      if (!board.filled(place)) return place
    }
  }
  return null
}

/**
 * Where to stand when the screen opens: the remembered place if it still takes a number there, else the first waiting place
 * after the last one that was measured, else the first waiting one at all, else none.
 */
export function placeToStart(
  board: Pick<Board, 'path' | 'samplesPerPoint' | 'filled'>,
  remembered: Place | null,
  lastMeasured: Place | null,
): Place | null {
  if (remembered && board.path.some((point) => point.point === remembered.point) && remembered.sample <= board.samplesPerPoint) {
    return remembered
  }
  return (lastMeasured && nextWaiting(lastMeasured, board)) ?? firstWaiting(board)
}
