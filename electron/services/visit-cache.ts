import { isDeepStrictEqual } from 'node:util'
import type { z } from 'zod'
import type { RunInVisit } from '#core/history/current-runs.ts'
import { CALCULATION_VERSION } from '#core/methods/catalogue.ts'
import { CertificationState } from '#core/model/results.ts'
import type { Stores } from '../project-file/stores.ts'

type Kept<T> = { readonly revision: string; readonly value: T }

/** The cache is written a while after it was made, so that nobody waits for it. */
const WRITE_AFTER_MS = 2000

/**
 * What was worked out of runs, under everything it rests on. Runs are kept in memory, slim; states of visits also in the file, for the
 * first screen of the next opening. All of it may be lost at any time.
 */
export class VisitCache {
  readonly #stores: Stores
  readonly #inFile: boolean
  readonly #runs = new Map<number, Kept<RunInVisit>>()
  readonly #visits = new Map<number, Kept<CertificationState>>()
  readonly #unwritten = new Set<number>()
  #timer: NodeJS.Timeout | null = null
  /** true while another connection of this process writes: nothing is written then */
  rests = false

  /** `inFile` false: what stands in the file is neither believed nor written, as when figures are given out or checked. */
  constructor(stores: Stores, inFile = true) {
    this.#stores = stores
    this.#inFile = inFile
  }

  run(rowId: number, revision: string, compute: () => RunInVisit): RunInVisit {
    const kept = this.#runs.get(rowId)
    if (kept?.revision === revision) return kept.value
    const value = slim(compute())
    this.#runs.set(rowId, { revision, value })
    return value
  }

  visit(rowId: number, revision: string, compute: () => CertificationState): CertificationState {
    const kept = this.#visits.get(rowId)
    if (kept?.revision === revision) return kept.value
    const written = this.#inFile ? this.#stores.results.cached(rowId, revision, CALCULATION_VERSION) : null
    const known = written === null ? null : asKept(CertificationState, JSON.parse(written))
    const value = known ?? compute()
    this.#visits.set(rowId, { revision, value })
    if (known === null && this.#inFile) this.#writeLater(rowId)
    return value
  }

  /** Writes what is waiting: before the file is closed. */
  flush(): void {
    if (this.#timer) clearTimeout(this.#timer)
    this.#timer = null
    const { file, results } = this.#stores
    if (file.readOnly || !file.db.open || this.#unwritten.size === 0) return
    this.#stores.transaction(() => {
      for (const rowId of this.#unwritten) {
        const kept = this.#visits.get(rowId)
        if (kept) results.keep(rowId, kept.revision, CALCULATION_VERSION, JSON.stringify(kept.value))
      }
    })
    this.#unwritten.clear()
  }

  #writeLater(rowId?: number): void {
    if (rowId !== undefined) this.#unwritten.add(rowId)
    this.#timer ??= setTimeout(() => {
      this.#timer = null
      if (this.rests) return this.#writeLater()
      try {
        this.flush()
      } catch {
        // A cache that cannot be written is made again next time.
        this.#unwritten.clear()
      }
    }, WRITE_AFTER_MS).unref()
  }
}

/** A program of the same calculation version may have kept less than this one shows: then it is worked out again, not filled up. */
export function asKept<T>(schema: z.ZodType<T>, written: unknown): T | null {
  const read = schema.safeParse(written)
  return read.success && isDeepStrictEqual(read.data, written) ? read.data : null
}

const NOTHING: never[] = []

/** What a roll-up looks at; the criteria of single filters and points are worked out again where they are shown. */
function slim(run: RunInVisit): RunInVisit {
  const { result } = run
  const filters = result.filters.map((filter) => ({ ...filter, pointMeansMps: NOTHING, criteria: NOTHING, notes: NOTHING }))
  return { ...run, result: { ...result, filters, zones: [], roomCriteria: [] } }
}
