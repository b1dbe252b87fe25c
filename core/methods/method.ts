import type { EntityBody } from '#core/model/entities.ts'
import type { Location, ReadingFlag } from '#core/model/readings.ts'
import type { RunResult } from '#core/model/results.ts'
import type { MethodId } from '#core/model/runs.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { Quantity, Uuid } from '#core/model/values.ts'

/** A point as the calculation sees it: where on its face it lies decides nothing but the area that it stands for. */
export type MeasuredPoint = Omit<Location, 'offsetXM' | 'offsetYM'>

/** A reading as the calculation sees it: valid ones only. Voided readings are counted in `voidedByTerminal`. */
export type MeasuredValue = {
  readonly point: number
  readonly si: number
  readonly flags: readonly ReadingFlag[]
  readonly instrumentId: Uuid
  /** calendar date at the site when it was taken, for calibration due dates */
  readonly localDate: string
  /** velocity where none is named */
  readonly quantity?: Quantity
}

export type Pinned<K extends 'room' | 'zone' | 'terminal' | 'instrument' | 'calibration' | 'criteria_set' | 'door'> = {
  readonly id: Uuid
  readonly revision: number
  readonly body: EntityBody<K>
}

/** Everything a run's calculation may look at: pinned revisions, the run's own layout, its valid readings. No clock, no I/O. */
export type RunInput = {
  readonly runId: Uuid
  readonly run: EntityBody<'run'>
  readonly room: Pinned<'room'>
  readonly zones: readonly Pinned<'zone'>[]
  /** terminals in the run's scope, in path order; grilles and closed ones included */
  readonly terminals: readonly Pinned<'terminal'>[]
  readonly instruments: readonly Pinned<'instrument'>[]
  readonly calibrations: readonly (Pinned<'calibration'> & { readonly instrumentId: Uuid })[]
  readonly criteriaSet: Pinned<'criteria_set'> | null
  /** criteria sets of zones that have one of their own, by zone id */
  readonly zoneCriteria: ReadonlyMap<Uuid, Pinned<'criteria_set'>>
  readonly locations: readonly MeasuredPoint[]
  readonly values: readonly MeasuredValue[]
  readonly voidedByTerminal: ReadonlyMap<Uuid, number>
  /** of the facility in the revision that the run pinned, m; null where that states none, or the run pinned no facility */
  readonly facilityAltitudeM: number | null
  /** the conditions of the run that carried readings come from, by terminal */
  readonly carriedAir?: ReadonlyMap<Uuid, Pick<EntityBody<'run'>, 'conditions' | 'instrumentConditions'>>
  /** doors of the room, in the revisions that the run pinned */
  readonly doors: readonly Pinned<'door'>[]
  /** model of the filter element in each terminal, in the revisions that the run pinned; filters of one model share the error of their area */
  readonly filterModels?: ReadonlyMap<Uuid, string>
}

export type LayoutRequest = {
  readonly terminals: readonly Pinned<'terminal'>[]
  readonly facingDegrees: 0 | 90 | 180 | 270
  readonly gridFor: ReadonlyMap<Uuid, { readonly rows: number; readonly columns: number }>
  /** the plane of a zone, for methods that measure one; `grid` null takes the proposed one */
  readonly plane?: {
    readonly boundary: EntityBody<'zone'>['boundary']
    readonly grid: { readonly rows: number; readonly columns: number } | null
  }
}

/** One test method of the catalogue. Airflow is the first tenant, not a special case. */
export type Method = {
  readonly id: MethodId
  /** what most of its points record */
  readonly records: Quantity
  /** what a point records; the terminal is that of the point, null where it lies at none */
  readonly recordsAt: (terminal: EntityBody<'terminal'> | null) => Quantity
  /** the way it measures a terminal; null: not at all */
  readonly wayAt: (terminal: EntityBody<'terminal'>) => FlowWay | null
  /** measures all air in and out, so that the doors of the room belong to the run */
  readonly balancesRoom: boolean
  /** which terminals of a room it measures */
  readonly measures: (terminal: EntityBody<'terminal'>) => boolean
  /** lays out the points of a run, numbered in the order they are walked */
  readonly layOut: (request: LayoutRequest) => Location[]
  readonly compute: (input: RunInput) => RunResult
  /** codes of cautions shown before the first reading; sentences in core/messages */
  readonly cautions: (room: EntityBody<'room'>, terminals: readonly EntityBody<'terminal'>[]) => string[]
}
