import { noVerdicts, worseThan } from '#core/criteria/roll-up.ts'
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

/** Sorts verdicts the worst first, as the roll-up weighs them; rooms that are not part of the certification last. */
export function verdictRank(verdict: Verdict | null): number {
  return verdict === null ? 1 : worseThan('not_applicable', verdict)
}

/** How many rooms have which verdict, and how far the measuring is. */
export function siteTotals(rows: readonly RoomRow[]): {
  counts: Record<Verdict, number>
  measured: number
  planned: number
  inScope: number
} {
  const counts = noVerdicts()
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
