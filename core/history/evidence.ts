import { slotLookup } from '#core/methods/airflow/slot-lookup.ts'
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

/** Rows and columns of each terminal's grid. Points of one terminal mostly follow each other. */
function gridsOf(input: RunInput): RunEvidence['grids'] {
  const grids = new Map<Uuid, { rows: number; columns: number }>()
  let lastId: Uuid | null = null
  let grid = { rows: 0, columns: 0 }
  for (const { terminalId, row, column } of input.locations) {
    if (terminalId === null) continue
    if (terminalId !== lastId) {
      lastId = terminalId
      grid = grids.get(terminalId) ?? { rows: row, columns: column }
      grids.set(terminalId, grid)
    }
    if (row > grid.rows) grid.rows = row
    if (column > grid.columns) grid.columns = column
  }
  return grids
}

/** Collects, from what a run was computed of, which instruments and which grid stand behind each terminal. */
export function evidenceOf(input: RunInput): RunEvidence {
  const slotOf = slotLookup(input.locations)
  const instrumentIds = new Map<Uuid, Uuid[]>()
  let lastTerminal: Uuid | null = null
  let lastInstrument: Uuid | null = null
  for (const { point, instrumentId } of input.values) {
    const terminalId = input.locations[slotOf(point)]?.terminalId ?? null
    if (terminalId === null || (terminalId === lastTerminal && instrumentId === lastInstrument)) continue
    lastTerminal = terminalId
    lastInstrument = instrumentId
    const ids = instrumentIds.get(terminalId)
    if (!ids) instrumentIds.set(terminalId, [instrumentId])
    else if (!ids.includes(instrumentId)) ids.push(instrumentId)
  }
  const instrumentNames = new Map(input.instruments.map(({ id, body }) => [id, `${body.name} (${body.serialNumber})`]))
  return { instrumentIds, grids: gridsOf(input), zoneCriteria: input.zoneCriteria, instrumentNames }
}
