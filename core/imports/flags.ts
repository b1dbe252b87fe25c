import { median } from 'simple-statistics'
import type { Message } from '#core/messages/say.ts'
import { flagsFor, questionReading, refuseReading, USUAL_VELOCITY_MPS } from '#core/methods/airflow/plausibility.ts'
import type { ReadingFlag } from '#core/model/readings.ts'
import type { Unit } from '#core/model/values.ts'
import type { ImportTarget } from './target.ts'

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

/** How many points to either side are looked at, as when readings are typed. */
const NEAR_POINTS = 12

/** The flags of readings that come in by the row: the same that they would get if somebody typed them. */
export class FlagBook {
  readonly #target: ImportTarget
  /** first samples, by run and point; NaN where there is none yet */
  readonly #values: readonly Float64Array[]
  /** what lies around the point of the last row, while nothing of it changes: the samples of a point come together */
  #around: { readonly run: number; readonly point: number; readonly mps: readonly number[] } | null = null
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
  }

  /** The flags, or why the value cannot be recorded with this instrument at all. */
  of(measured: Measured): readonly ReadingFlag[] | Message {
    const run = this.#target.runs[measured.run]
    const point = run?.points[measured.point]
    const instrument = run?.instruments[measured.instrument]
    if (!run || !point || !instrument) throw new Error('a reading is flagged at its point and with its instrument')
    const { si, typed, unit } = measured
    const { quantity } = point
    const refusal = refuseReading({ si, quantity, instrument: instrument.body })
    if (refusal) return refusal
    const values = this.#values[measured.run]
    const question =
      quantity === 'velocity' &&
      questionReading({
        si,
        typed,
        unit,
        neighboursMps: this.#neighbours(measured),
        designVelocityMps: point.designVelocityMps,
        instrument: instrument.body,
      }) !== null
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
      questioned: question,
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

  /**
   * The velocities around a point by their median alone: that is all that a question about a value asks of them, and it leaves out those
   * that no face usually has.
   */
  #neighbours({ run, point }: Measured): readonly number[] {
    if (this.#around?.run === run && this.#around.point === point) return this.#around.mps
    const usual = this.#near(run, point).filter((mps) => mps >= USUAL_VELOCITY_MPS.low && mps <= USUAL_VELOCITY_MPS.high)
    const mps = usual.length === 0 ? [] : [median(usual)]
    this.#around = { run, point, mps }
    return mps
  }

  #near(run: number, point: number): number[] {
    const points = this.#target.runs[run]?.points ?? []
    const values = this.#values[run] ?? []
    const terminalId = points[point]?.location.terminalId
    const near: number[] = []
    for (let other = Math.max(0, point - NEAR_POINTS); other <= point + NEAR_POINTS && other < points.length; other += 1) {
      const si = values[other] ?? Number.NaN
      if (other !== point && !Number.isNaN(si) && points[other]?.location.terminalId === terminalId) near.push(si)
    }
    return near
  }
}
