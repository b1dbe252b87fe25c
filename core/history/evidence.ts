import type { RunInput } from '#core/methods/method.ts'
import type { RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'

/** What a figure rests on beside its readings; where it differs between two visits, the trend is broken there. */
export type RunEvidence = {
  readonly instrumentIds: ReadonlyMap<Uuid, readonly Uuid[]>
  /** rows and columns of each terminal's grid */
  readonly grids: ReadonlyMap<Uuid, { readonly rows: number; readonly columns: number }>
  /** criteria sets of zones that have one of their own */
  readonly zoneCriteria: ReadonlyMap<Uuid, { readonly id: Uuid; readonly revision: number }>
  /** names of the instruments, with their serial numbers */
  readonly instrumentNames: ReadonlyMap<Uuid, string>
}

/** The filter that sat in a terminal when a run was made. */
export type ElementInPlace = { readonly id: Uuid; readonly serialNumber: string }

/** A run as comparison and history see it. `result` is computed with today's calculation; `signed` is what was frozen, if it was. */
export type RunWithEvidence = {
  readonly runId: Uuid
  readonly roomId: Uuid
  readonly result: RunResult
  readonly signed: RunResult | null
  readonly evidence: RunEvidence
  readonly elements: ReadonlyMap<Uuid, ElementInPlace>
}

/** Collects, from what a run was computed of, which instruments and which grid stand behind each terminal. */
export function evidenceOf(input: RunInput): RunEvidence {
  const terminalOf = new Map<number, Uuid>()
  const grids = new Map<Uuid, { rows: number; columns: number }>()
  for (const location of input.locations) {
    if (location.terminalId === null) continue
    terminalOf.set(location.number, location.terminalId)
    const grid = grids.get(location.terminalId)
    if (!grid) grids.set(location.terminalId, { rows: location.row, columns: location.column })
    else {
      if (location.row > grid.rows) grid.rows = location.row
      if (location.column > grid.columns) grid.columns = location.column
    }
  }
  const instrumentIds = new Map<Uuid, Uuid[]>()
  for (const value of input.values) {
    const terminalId = terminalOf.get(value.point)
    if (terminalId === undefined) continue
    const ids = instrumentIds.get(terminalId)
    if (!ids) instrumentIds.set(terminalId, [value.instrumentId])
    else if (!ids.includes(value.instrumentId)) ids.push(value.instrumentId)
  }
  const instrumentNames = new Map(input.instruments.map(({ id, body }) => [id, `${body.name} (${body.serialNumber})`]))
  return { instrumentIds, grids, zoneCriteria: input.zoneCriteria, instrumentNames }
}
