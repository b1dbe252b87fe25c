import type { PathPoint } from '#core/methods/airflow/neighbours.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Location, ReadingFlag } from '#core/model/readings.ts'
import type { PlainDate, Quantity, Unit } from '#core/model/values.ts'

/** A point that a reading can be laid onto. */
export type ImportPoint = PathPoint & {
  readonly location: Location
  readonly designVelocityMps: number | null
  readonly designFlowM3ps: number | null
}

/** A run as an import sees it: open, its points in the order they are walked, and what stands there already. */
export type ImportRun = {
  readonly runId: string
  readonly points: readonly ImportPoint[]
  readonly samplesPerPoint: number
  readonly averagingTimeS: number
  readonly leastAveragingTimeS: number
  /** units in which the run is logged; null where it says nothing of this quantity */
  readonly unitOf: (quantity: Quantity) => Unit | null
  readonly tags: ReadonlyMap<string, string>
  /** terminals whose readings as found stand in this run: nothing is measured there */
  readonly carried: ReadonlySet<string>
  /** as this run uses them: one for each of the target's serial numbers, in their order */
  readonly instruments: readonly ImportInstrument[]
  /** readings in force */
  readonly standing: readonly { readonly point: number; readonly sample: number; readonly si: number }[]
}

export type ImportInstrument = {
  readonly id: string
  readonly body: EntityBody<'instrument'>
  readonly calibrations: readonly EntityBody<'calibration'>[]
}

/** Where each point of a run is, in the words of the person who walks it: the terminal, and the number within it; without one, within the run. */
export function placesOf(run: Pick<ImportRun, 'points' | 'tags'>): readonly { readonly tag: string | null; readonly order: number }[] {
  const counts = new Map<string, number>()
  return run.points.map(({ location }) => {
    const tag = location.terminalId === null ? null : (run.tags.get(location.terminalId) ?? null)
    if (location.terminalId === null || tag === null) return { tag: null, order: location.number }
    const order = (counts.get(location.terminalId) ?? 0) + 1
    counts.set(location.terminalId, order)
    return { tag, order }
  })
}

/** Everything that rows are held against. */
export type ImportTarget = {
  readonly runs: readonly ImportRun[]
  /** serial numbers of the instruments in use */
  readonly serials: readonly string[]
  /** index of the instrument of rows that name none; null where each row has to name one */
  readonly instrument: number | null
  readonly timeZone: string
  /** now, ms since 1970 UTC: the time of readings without one of their own, and the latest that a reading can have */
  readonly nowMs: number
  readonly localDateOf: (atMs: number) => PlainDate
  /** for values that only have their order: number of the point that the first one belongs to; null takes the first without a reading */
  readonly firstPoint: number | null
}

/** A row that became a reading. `run`, `point` and `instrument` are indexes into the target. */
export type Placed = {
  readonly ok: true
  readonly run: number
  readonly point: number
  readonly sample: number
  readonly si: number
  readonly typed: string
  readonly unit: Unit
  readonly atMs: number
  readonly instrument: number
  readonly flags: readonly ReadingFlag[]
}
