import type { Message } from '#core/messages/say.ts'
import { neighboursOf, type ReadingPath } from '#core/methods/airflow/neighbours.ts'
import { flagsFor, refuseReading } from '#core/methods/airflow/plausibility.ts'
import { mayBeNegative, questionAt, usualAmong } from '#core/methods/airflow/plausibility-by-way.ts'
import { slotLookup } from '#core/methods/airflow/slot-lookup.ts'
import type { ReadingFlag } from '#core/model/readings.ts'
import type { Unit } from '#core/model/values.ts'
import type { ImportPoint, ImportTarget } from './target.ts'

type Measured = {
  readonly run: number
  readonly point: number
  readonly sample: number
  readonly si: number
  readonly typed: string
  readonly unit: Unit
  readonly instrument: number
  readonly atMs: number
}

/** The flags of readings that come in by the row: the same that they would get if somebody typed them. */
export class FlagBook {
  readonly #target: ImportTarget
  /** first samples, by run and point; NaN where there is none yet */
  readonly #values: readonly Float64Array[]
  readonly #paths: readonly ReadingPath[]
  /** what is usual around the point of the last row, while nothing of it changes: the samples of a point come together */
  #around: { readonly run: number; readonly point: number; readonly usual: readonly number[] } | null = null
  readonly #allFlags = new Map<string, readonly ReadingFlag[]>()

  constructor(target: ImportTarget) {
    this.#target = target
    this.#values = target.runs.map((run) => {
      const values = new Float64Array(run.points.length).fill(Number.NaN)
      const indexOf = new Map(run.points.map(({ location }, index) => [location.number, index]))
      for (const { point, sample, si } of run.standing) {
        const index = indexOf.get(point)
        if (sample === 1 && index !== undefined) values[index] = si
      }
      return values
    })
    this.#paths = target.runs.map(({ points }, run) => {
      const indexOf = slotLookup(points.map(({ location }) => location))
      const values = this.#values[run]
      return {
        pointAt: (number) => points[indexOf(number)],
        valueAt: (number) => {
          const si = values?.[indexOf(number)]
          return si === undefined || Number.isNaN(si) ? null : si
        },
      }
    })
  }

  /** The flags, or why the value cannot be recorded with this instrument at all. */
  of(measured: Measured): readonly ReadingFlag[] | Message {
    const run = this.#target.runs[measured.run]
    const point = run?.points[measured.point]
    const instrument = run?.instruments[measured.instrument]
    if (!run || !point || !instrument) throw new Error('a reading is flagged at its point and with its instrument')
    const { si, typed, unit } = measured
    const { quantity, way, direction, designVelocityMps, designFlowM3ps } = point
    const refusal = refuseReading({ si, quantity, instrument: instrument.body })
    if (refusal) return refusal
    const values = this.#values[measured.run]
    const question = questionAt({
      way,
      quantity,
      mayBeNegative: mayBeNegative(way, direction),
      si,
      typed,
      unit,
      neighbours: this.#usualAround(measured, point),
      designVelocityMps,
      designFlowM3ps,
      instrument: instrument.body,
    })
    if (values && measured.sample === 1) {
      values[measured.point] = si
      // A point is no neighbour of its own.
      if (this.#around?.point !== measured.point) this.#around = null
    }
    const flags = flagsFor({
      si,
      quantity,
      instrument: instrument.body,
      calibrations: instrument.calibrations,
      localDate: this.#target.localDateOf(measured.atMs),
      averagingTimeS: run.averagingTimeS,
      leastAveragingTimeS: run.leastAveragingTimeS,
      questioned: question !== null,
    })
    return this.#shared(flags)
  }

  /** A million rows have a handful of different sets of flags. */
  #shared(flags: readonly ReadingFlag[]): readonly ReadingFlag[] {
    const key = flags.join(' ')
    const known = this.#allFlags.get(key)
    if (known) return known
    this.#allFlags.set(key, flags)
    return flags
  }

  #usualAround({ run, point }: Measured, { location, way, quantity }: ImportPoint): readonly number[] {
    if (this.#around?.run === run && this.#around.point === point) return this.#around.usual
    const path = this.#paths[run]
    const usual = path ? usualAmong(way, quantity, neighboursOf(path, location.number)) : []
    this.#around = { run, point, usual }
    return usual
  }
}
