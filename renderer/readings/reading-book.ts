import type { Reading, ReadingFlag, ReadingId } from '#core/model/readings.ts'
import type { Sentence } from '#core/model/results.ts'
import type { Instant, Unit, Uuid } from '#core/model/values.ts'
import type { OutboxState } from './outbox.ts'
import type { OutgoingRecord, Replaced } from './outgoing.ts'
import { keyOf, type Place } from './typing.ts'

/** How far a number has come on its way into the project file. */
export type SavedState = 'waiting' | 'saving' | 'saved' | 'refused'

/** The number that counts at a place now. */
export type PlacedReading = {
  readonly place: Place
  readonly saved: SavedState
  readonly typed: string
  readonly unit: Unit
  readonly si: number
  readonly flags: readonly ReadingFlag[]
  readonly note: string
  readonly at: Instant
  readonly instrumentId: Uuid
  readonly personId: Uuid
  /** what a correction of it would replace */
  readonly identity: Replaced
  readonly refused: Sentence | null
  readonly commandId: Uuid | null
}

/** Readings of a run: what the project holds, and over it what waits in the queue. */
export type ReadingBook = {
  readonly at: (place: Place) => PlacedReading | null
  /** every stored reading of a point, voided ones too, oldest first */
  readonly stored: (point: number) => readonly Reading[]
  /**
   * Takes over all readings anew, as they were when so many answers had come; what was answered since is kept over them. Returns the first place whose
   * valid reading is another one than before.
   */
  readonly replaceAll: (readings: readonly Reading[], answers: number) => Place | null
  /** takes in what the project answered to a record, as the so-manieth answer */
  readonly acknowledge: (readings: readonly Reading[], answers: number) => void
  /** lays the queue over; returns the points it touches or touched before */
  readonly overlay: (outbox: OutboxState) => ReadonlySet<number>
  /** the reading that was recorded last */
  readonly latest: () => Reading | null
}

export function createReadingBook(readings: readonly Reading[]): ReadingBook {
  let byPoint = new Map<number, readonly Reading[]>()
  let valid = new Map<string, Reading>()
  let waiting = new Map<string, PlacedReading>()
  let latest: Reading | null = null
  let answered: readonly { readonly readings: readonly Reading[]; readonly answers: number }[] = []

  const load = (all: readonly Reading[]) => {
    byPoint = new Map()
    valid = new Map()
    latest = null
    for (const reading of all) add(reading)
  }
  const add = (reading: Reading) => {
    byPoint.set(reading.point, [...(byPoint.get(reading.point) ?? []), reading])
    if (!reading.voided) valid.set(keyOf(reading), reading)
    if (!latest || reading.at >= latest.at) latest = reading
  }
  const takeIn = (fresh: readonly Reading[]) => {
    for (const reading of fresh) {
      const known = byPoint.get(reading.point)?.some((other) => other.id === reading.id)
      if (known) continue
      const replaced = valid.get(keyOf(reading))
      if (replaced) {
        const voided = { ...replaced, voided: { at: reading.at, personId: reading.personId, reason: '', replacedBy: reading.id } }
        byPoint.set(
          reading.point,
          (byPoint.get(reading.point) ?? NONE).map((other) => (other.id === replaced.id ? voided : other)),
        )
      }
      add(reading)
    }
  }
  load(readings)

  return {
    at: (place) => {
      const over = waiting.get(keyOf(place))
      if (over) return over
      const reading = valid.get(keyOf(place))
      return reading ? placed(reading) : null
    },
    stored: (point) => byPoint.get(point) ?? NONE,
    replaceAll: (all, answers) => {
      const before = valid
      load(all)
      answered = answered.filter((answer) => answer.answers > answers)
      for (const answer of answered) takeIn(answer.readings)
      return firstDifference(before, valid)
    },
    acknowledge: (fresh, answers) => {
      answered = [...answered.slice(1 - MOST_KEPT), { readings: fresh, answers }]
      takeIn(fresh)
    },
    overlay: (outbox) => {
      const before = waiting
      waiting = layOver(outbox)
      const touched = new Set<number>()
      for (const entry of [...before.values(), ...waiting.values()]) touched.add(entry.place.point)
      return touched
    },
    latest: () => latest,
  }
}

/** A number that is not recorded yet, as it would stand at its place: to look at what it would say. */
export function unrecorded(place: Place, value: { typed: string; unit: Unit; si: number }, instrumentId: Uuid): PlacedReading {
  return {
    place,
    ...value,
    saved: 'waiting',
    flags: [],
    note: '',
    at: new Date().toISOString(),
    instrumentId,
    personId: '',
    identity: null,
    refused: null,
    commandId: null,
  }
}

const NONE: readonly Reading[] = []

/** More answers than this do not come while all readings are on their way. */
const MOST_KEPT = 500

function placed(reading: Reading): PlacedReading {
  return {
    place: { point: reading.point, sample: reading.sample },
    saved: 'saved',
    typed: reading.typed,
    unit: reading.unit,
    si: reading.si,
    flags: reading.flags,
    note: reading.note,
    at: reading.at,
    instrumentId: reading.instrumentId,
    personId: reading.personId,
    identity: { by: 'reading', id: reading.id },
    refused: null,
    commandId: null,
  }
}

/** What the queue will have done, seen from now: records in order, an undo taking the last of them off again. */
function layOver(outbox: OutboxState): Map<string, PlacedReading> {
  const records: OutgoingRecord[] = []
  const undone: OutgoingRecord[] = []
  for (const item of outbox.items) {
    if (item.kind === 'record') records.push(item)
    else if (item.kind === 'undo') {
      const last = records.pop()
      if (last) undone.push(last)
    } else {
      const last = undone.pop()
      if (last) records.push(last)
    }
  }
  const over = new Map<string, PlacedReading>()
  for (const record of records) {
    for (const entry of record.entries) {
      over.set(keyOf(entry), {
        place: { point: entry.point, sample: entry.sample },
        saved: record.refused ? 'refused' : outbox.sending === record.commandId ? 'saving' : 'waiting',
        typed: entry.typed,
        unit: entry.unit,
        si: entry.si,
        flags: [],
        note: entry.note,
        at: record.at,
        instrumentId: record.instrumentId,
        personId: record.personId,
        identity: { by: 'command', id: record.commandId },
        refused: record.refused,
        commandId: record.commandId,
      })
    }
  }
  return over
}

function firstDifference(before: ReadonlyMap<string, Reading>, after: ReadonlyMap<string, Reading>): Place | null {
  let first: Place | null = null
  const consider = (reading: Reading, other: ReadingId | undefined) => {
    if (other === reading.id || (first && first.point <= reading.point)) return
    first = { point: reading.point, sample: reading.sample }
  }
  for (const [key, reading] of before) consider(reading, after.get(key)?.id)
  for (const [key, reading] of after) consider(reading, before.get(key)?.id)
  return first
}
