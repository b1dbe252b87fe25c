import type { Entity } from '#core/model/entities.ts'
import type { CertificationState, RoomState } from '#core/model/results.ts'

export type RoomLine = { readonly room: Entity<'room'>; readonly state: RoomState }
export type Show = 'all' | 'to_do' | 'failing' | 'done'

/** A room is done when it was measured and none of its runs is open: a second pass that was begun is still to do. */
export function isDone(state: RoomState): boolean {
  const current = state.runs.filter((run) => run.current)
  return current.length > 0 && state.runs.every((run) => run.state !== 'open')
}

export function isFailing(state: RoomState): boolean {
  return state.verdict === 'fail' || state.verdict === 'not_valid'
}

const byNumber = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' })

/** The rooms of a visit by number, those that a filter asks for. */
export function roomLines(state: CertificationState, rooms: readonly Entity<'room'>[], show: Show): RoomLine[] {
  const known = new Map(rooms.map((room) => [room.id, room]))
  return state.rooms
    .flatMap((roomState): RoomLine[] => {
      const room = known.get(roomState.roomId)
      return room ? [{ room, state: roomState }] : []
    })
    .filter(({ state: one }) =>
      show === 'to_do' ? !isDone(one) : show === 'failing' ? isFailing(one) : show === 'done' ? isDone(one) : true,
    )
    .sort((a, b) => byNumber.compare(a.room.body.number, b.room.body.number))
}

type Planned = readonly { readonly roomId: string; readonly filters: number }[]

/** How far a visit has come. `planned` tells the filters of rooms that have no run yet. */
export function progressOf(
  state: CertificationState,
  planned: Planned,
): { rooms: number; done: number; failing: number; filters: number; measured: number } {
  let done = 0
  let failing = 0
  let filters = 0
  let measured = 0
  for (const room of state.rooms) {
    if (isDone(room)) done += 1
    if (isFailing(room)) failing += 1
    filters += filtersPlanned(room, planned)
    measured += room.filtersMeasured
  }
  return { rooms: state.rooms.length, done, failing, filters, measured }
}

/** Filters of a room in this visit: those of its current runs, or those that a run would have. */
export function filtersPlanned(room: RoomState, planned: Planned): number {
  return room.runs.length > 0 ? room.filtersPlanned : (planned.find((entry) => entry.roomId === room.roomId)?.filters ?? 0)
}
