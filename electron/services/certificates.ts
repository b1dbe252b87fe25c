import type { Reading } from '#core/model/readings.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import type { Pin } from '../project-file/runs.ts'
import type { Stores } from '../project-file/stores.ts'
import type { Session } from './session.ts'

type Certificate = StoredEntity<'calibration'>
/** The day on which an instrument was read last in a run, by its identity; undefined where it was not read. */
export type LastRead = (instrumentId: string) => string | undefined

/** The calibration certificates of a project as they stand today, read again once anything was written. */
export class Certificates {
  readonly #stores: Stores
  #known: { readonly at: number; readonly asOf: number; readonly byInstrument: ReadonlyMap<string, readonly Certificate[]> } | null = null

  constructor(stores: Stores) {
    this.#stores = stores
  }

  /** Grows with every change of any certificate: what rests on certificates of today is kept under it. */
  get asOf(): number {
    return this.#today().asOf
  }

  of(instrumentId: string): readonly Certificate[] {
    return this.#today().byInstrument.get(instrumentId) ?? []
  }

  #today() {
    const at = this.#stores.trail.lastId()
    if (this.#known?.at === at) return this.#known
    const asOf = this.#stores.entities.lastEntryOf('calibration')
    const byInstrument = this.#known?.asOf === asOf ? this.#known.byInstrument : this.#read()
    this.#known = { at, asOf, byInstrument }
    return this.#known
  }

  #read(): ReadonlyMap<string, readonly Certificate[]> {
    const byInstrument = new Map<string, Certificate[]>()
    for (const certificate of this.#stores.entities.list('calibration')) {
      const instrumentId = certificate.entity.parentId ?? ''
      const others = byInstrument.get(instrumentId)
      if (others) others.push(certificate)
      else byInstrument.set(instrumentId, [certificate])
    }
    return byInstrument
  }
}

type PinnedRevision = { readonly id: string; readonly revision: number }

/**
 * Certificates of a run's instruments that are newer than its pins: made after the instrument was read last in it, and so able to
 * release readings made past due, and never to cover any. A signed run pinned what released it when it was signed.
 */
export function certificatesSince(
  certificates: Certificates,
  run: StoredEntity<'run'>,
  pinned: { readonly instruments: readonly PinnedRevision[]; readonly calibrations: readonly PinnedRevision[] },
  lastRead: LastRead,
): Certificate[] {
  if (run.entity.body.state === 'signed') return []
  const known = new Map(pinned.calibrations.map(({ id, revision }) => [id, revision]))
  return pinned.instruments.flatMap(({ id }) => {
    const newer = certificates.of(id).filter(({ entity }) => known.get(entity.id) !== entity.revision)
    if (newer.length === 0) return []
    const last = lastRead(id)
    return last === undefined ? [] : newer.filter(({ entity }) => entity.body.calibratedOn > last)
  })
}

/** The days on which instruments were read last, out of readings in any order; looked up only when asked. */
export function lastReadOf(readings: () => Iterable<{ readonly instrumentId: string; readonly on: string }>): LastRead {
  let days: Map<string, string> | null = null
  return (instrumentId) => {
    if (days === null) {
      days = new Map()
      for (const { instrumentId: id, on } of readings()) if (on > (days.get(id) ?? '')) days.set(id, on)
    }
    return days.get(instrumentId)
  }
}

/** {@link certificatesSince} of a run whose pins and readings are at hand; voided readings do not count. */
export function releasesOf(
  session: Session,
  run: StoredEntity<'run'>,
  pins: readonly Pin[],
  readings: readonly Reading[],
): readonly Certificate[] {
  const ofKind = (kind: Pin['kind']) => pins.filter((pinned) => pinned.kind === kind)
  const lastRead = lastReadOf(() =>
    readings
      .filter(({ voided }) => voided === null)
      .map(({ instrumentId, at }) => ({ instrumentId, on: session.localDates.of(Date.parse(at)) })),
  )
  return certificatesSince(session.certificates, run, { instruments: ofKind('instrument'), calibrations: ofKind('calibration') }, lastRead)
}
