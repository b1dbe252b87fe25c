import { message } from '#core/messages/say.ts'
import { leastAveragingTimeS } from '#core/methods/airflow/averaging.ts'
import { airDirectionOf } from '#core/methods/airflow/ways.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Location, Reading } from '#core/model/readings.ts'
import type { AirDirection, FlowWay } from '#core/model/terminals.ts'
import type { Quantity } from '#core/model/values.ts'
import { localDate } from '#core/planning/dates.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import { QUARTER_HOUR_MS, type StoredReading } from '../project-file/readings.ts'
import type { Pin } from '../project-file/runs.ts'
import { pinnedInput } from './run-input.ts'
import type { Session } from './session.ts'

export type KnownInstrument = {
  readonly rowId: number
  readonly id: string
  readonly revision: number
  readonly body: EntityBody<'instrument'>
  readonly calibrations: readonly { rowId: number; id: string; revision: number; body: EntityBody<'calibration'> }[]
}

export type KnownPoint = {
  readonly rowId: number
  readonly location: Location
  /** what is recorded there, and by which way its terminal is measured; null at no terminal */
  readonly quantity: Quantity
  readonly way: FlowWay | null
  readonly direction: AirDirection
  readonly designVelocityMps: number | null
  readonly designFlowM3ps: number | null
}

/** What is in force at one point and sample: enough to question the next value and to void this one. */
export type InForce = Pick<StoredReading, 'rowId'> & { readonly reading: Reading }

/** What recording needs to know of a run, read once and kept while readings of that run come in. */
export type RunContext = {
  readonly rowId: number
  readonly runId: string
  readonly body: EntityBody<'run'>
  readonly points: ReadonlyMap<number, KnownPoint>
  readonly pointsOfTerminal: ReadonlyMap<string, readonly number[]>
  /** shorter averaging is flagged, s */
  readonly leastAveragingTimeS: number
  readonly pinned: Set<number>
  /** pinned instruments and certificates as this run uses them, by row */
  readonly pinnedAs: ReadonlyMap<number, Pin>
  readonly instruments: Map<string, KnownInstrument>
  readonly inForce: Map<string, InForce>
}

export function slotOf(point: number, sample: number): string {
  return `${point}/${sample}`
}

const KEPT_RUNS = 4

/** Contexts of the last few runs that were recorded to. */
export class RunContexts {
  readonly #session: Session
  readonly #known = new Map<string, RunContext>()

  constructor(session: Session) {
    this.#session = session
  }

  clear(): void {
    this.#known.clear()
  }

  of(runId: string): RunContext {
    const known = this.#known.get(runId)
    if (known) return known
    const context = this.#load(runId)
    if (this.#known.size >= KEPT_RUNS) {
      const [oldest] = this.#known.keys()
      if (oldest !== undefined) this.#known.delete(oldest)
    }
    this.#known.set(runId, context)
    return context
  }

  #load(runId: string): RunContext {
    const { stores } = this.#session
    const run = this.#session.find('run', runId)
    const pins = stores.runs.pins(run.rowId)
    const method = methodOf(run.entity.body.method)
    const terminals = new Map<string, EntityBody<'terminal'>>()
    let zoneOrRoomDesign: number | null = null
    for (const pin of pins) {
      // A pin's kind and body come from the same row.
      if (pin.kind === 'terminal') terminals.set(pin.id, pin.body as EntityBody<'terminal'>)
      if (pin.kind === 'zone' && pin.id === run.entity.body.zoneId)
        zoneOrRoomDesign = (pin.body as EntityBody<'zone'>).designVelocity?.si ?? null
      if (pin.kind === 'room') zoneOrRoomDesign ??= (pin.body as EntityBody<'room'>).designVelocity?.si ?? null
    }
    const points = new Map<number, KnownPoint>()
    const pointsOfTerminal = new Map<string, number[]>()
    for (const { rowId, location } of stores.runs.locations(run.rowId)) {
      const terminalId = location.terminalId ?? ''
      const terminal = terminals.get(terminalId) ?? null
      points.set(location.number, {
        rowId,
        location,
        quantity: method.recordsAt(terminal),
        way: terminal && method.wayAt(terminal),
        direction: terminal ? airDirectionOf(terminal) : 'supply',
        designVelocityMps: terminal?.designVelocity?.si ?? zoneOrRoomDesign,
        designFlowM3ps: terminal?.designFlow?.si ?? null,
      })
      const others = pointsOfTerminal.get(terminalId)
      if (others) others.push(location.number)
      else pointsOfTerminal.set(terminalId, [location.number])
    }
    const inForce = new Map(
      stores.readings.inForce(run.rowId).map((stored) => [slotOf(stored.reading.point, stored.reading.sample), stored]),
    )
    return {
      rowId: run.rowId,
      runId,
      body: run.entity.body,
      points,
      pointsOfTerminal,
      leastAveragingTimeS: leastAveragingTimeS(pinnedInput(this.#session, run)),
      pinned: new Set(pins.map((pin) => pin.rowId)),
      pinnedAs: new Map(pins.filter(({ kind }) => kind === 'instrument' || kind === 'calibration').map((pin) => [pin.rowId, pin])),
      instruments: new Map(),
      inForce,
    }
  }

  /**
   * An instrument with its certificates: in the revisions that the run has pinned, else as they stand today. An instrument edited in the
   * middle of a run flags the rest of its readings as it flagged the first ones, until the pins are refreshed.
   */
  instrument(context: RunContext, instrumentId: string): KnownInstrument {
    const known = context.instruments.get(instrumentId)
    if (known) return known
    const stored = this.#session.find('instrument', instrumentId, 'instrumentId')
    if (!stored.entity.body.active) {
      throw problem('refused', message('error.instrument_inactive', { name: stored.entity.body.name }), { field: 'instrumentId' })
    }
    const asUsed = <K extends 'instrument' | 'calibration'>({ rowId, entity }: StoredEntity<K>) => {
      const pin = context.pinnedAs.get(rowId)
      // A row keeps its kind for life, so the pinned body is of the same kind.
      const body = (pin?.body ?? entity.body) as EntityBody<K>
      return { rowId, id: entity.id, revision: pin?.revision ?? entity.revision, body }
    }
    const calibrations = this.#session.stores.entities.list('calibration', { within: stored.rowId }).map(asUsed)
    const instrument = { ...asUsed(stored), calibrations }
    context.instruments.set(instrumentId, instrument)
    return instrument
  }
}

/** Calendar dates at the site; one conversion serves a quarter of an hour. */
export class LocalDates {
  readonly #zone: string
  readonly #known = new Map<number, string>()

  constructor(zone: string) {
    this.#zone = zone
  }

  of(atMs: number): string {
    return this.ofQuarter(Math.floor(atMs / QUARTER_HOUR_MS))
  }

  /** By quarters of an hour since 1970. */
  ofQuarter(quarter: number): string {
    let date = this.#known.get(quarter)
    if (date === undefined) {
      date = localDate(quarter * QUARTER_HOUR_MS, this.#zone)
      this.#known.set(quarter, date)
    }
    return date
  }
}
