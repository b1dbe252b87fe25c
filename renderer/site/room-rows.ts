import type { Verdict } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import type { CertificationState, RoomState } from '#core/model/results.ts'

export type RoomRow = { readonly room: Entity<'room'>; readonly state: RoomState | null; readonly verdict: Verdict | null }

/** Each room with its state in the certification shown; verdict null means that the room is not part of it. */
export function roomRows(
  rooms: readonly Entity<'room'>[],
  state: CertificationState | null,
  certification: Entity<'certification'> | null,
): RoomRow[] {
  const states = new Map(state?.rooms.map((room) => [room.roomId, room]))
  const scope = new Set(certification?.body.roomIds)
  return rooms.map((room) => {
    const own = states.get(room.id) ?? null
    return { room, state: own, verdict: own?.verdict ?? (scope.has(room.id) ? 'not_tested' : null) }
  })
}

const WORST_FIRST: readonly Verdict[] = ['fail', 'not_valid', 'inconclusive', 'not_tested', 'pass', 'not_applicable']

/** Sorts verdicts the worst first; rooms that are not part of the certification last. */
export function verdictRank(verdict: Verdict | null): number {
  return verdict === null ? WORST_FIRST.length : WORST_FIRST.indexOf(verdict)
}

/** How many rooms have which verdict, and how far the measuring is. */
export function siteTotals(rows: readonly RoomRow[]): {
  counts: Record<Verdict, number>
  measured: number
  planned: number
  inScope: number
} {
  const counts: Record<Verdict, number> = { pass: 0, fail: 0, inconclusive: 0, not_tested: 0, not_valid: 0, not_applicable: 0 }
  let measured = 0
  let planned = 0
  let inScope = 0
  for (const { verdict, state } of rows) {
    if (verdict === null) continue
    inScope += 1
    counts[verdict] += 1
    measured += state?.filtersMeasured ?? 0
    planned += state?.filtersPlanned ?? 0
  }
  return { counts, measured, planned, inScope }
}
