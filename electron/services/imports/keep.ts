import type { ImportOrder, ImportOutcome } from '#core/api/imports.ts'
import { message } from '#core/messages/say.ts'
import type { AuditEntry } from '#core/model/audit.ts'
import type { Reading } from '#core/model/readings.ts'
import { type ImportedRows, unitAt } from '../../import/imported-rows.ts'
import { problem } from '../../project-file/problem.ts'
import { ReadingsHash } from '../../project-file/reading-batches.ts'
import type { NewReading } from '../../project-file/readings.ts'
import { commit, type Transaction } from '../command.ts'
import { pinInstrument } from '../readings.ts'
import type { Session } from '../session.ts'
import { earlierImports, type GatheredImport, keptContent } from './read-file.ts'

/** Up to as many readings stand in the trail one by one, as after a paste; more of them by the hash of their rows. */
const MOST_ONE_BY_ONE = 5000
const ROWS_PER_REPORT = 1000

export type KeepWatch = { readonly progress: (share: number) => void; readonly cancelled: () => boolean }

const CANCELLED = Symbol('cancelled')

/**
 * Writes a file's readings in one transaction with their entry and the file itself: all or nothing. Answers what became of it; null when
 * it was cancelled, and then nothing is written.
 */
export function keepImport(
  session: Session,
  gathered: GatheredImport,
  order: ImportOrder,
  attachmentId: string,
  watch: KeepWatch,
): ImportOutcome | null {
  const { into, command } = order
  // Taken back in the run, or for a whole certification in the project.
  const scope = into.kind === 'run' ? into.runId : 'project'
  const { outcome } = gathered
  const kept: ImportOutcome = { ...outcome, imported: true }
  try {
    return commit(
      session,
      { command, name: 'reading.import', scope },
      (transaction) => {
        refuseSecond(transaction, gathered, order)
        refuseChanged(transaction, gathered)
        pinInstruments(transaction, gathered)
        writeRows(transaction, gathered, watch)
        attach(transaction, gathered, order, attachmentId)
        return kept
      },
      (entry) => {
        if (readingsOf(entry) !== outcome.readings) throw problem('conflict', message('error.command_reused', {}))
        return kept
      },
    )
  } catch (error) {
    if (error === CANCELLED) return null
    throw error
  }
}

function readingsOf({ changes }: AuditEntry): number {
  return changes.reduce((sum, change) => sum + (change.what === 'readings' ? change.count : change.what === 'reading' ? 1 : 0), 0)
}

function refuseSecond({ session }: Transaction, { outcome }: GatheredImport, { again }: ImportOrder): void {
  const last = earlierImports(session.stores, outcome).at(-1)
  if (!last || again) return
  throw problem('conflict', message('import.twice', { name: last.name === outcome.name ? '' : last.name, at: last.at }), { field: 'again' })
}

/** Whatever was done in these runs since the file was read may contradict it: then the preview was about another state. */
function refuseChanged({ session }: Transaction, { runs, instruments, outcome }: GatheredImport): void {
  const wanted = new Set(outcome.runs.map(({ runId }) => runId))
  const runChanged = runs.some(
    ({ runId, mark }) =>
      wanted.has(runId) && (session.stores.trail.lastInScope(runId) !== mark || session.find('run', runId).entity.body.state !== 'open'),
  )
  const instrumentChanged = instruments.some(({ id, revision }) => session.stores.entities.find(id)?.entity.revision !== revision)
  if (runChanged || instrumentChanged) throw problem('conflict', message('import.changed_meanwhile', {}))
}

function pinInstruments(transaction: Transaction, { rows, runs, instruments }: GatheredImport): void {
  const { contexts } = transaction.session
  const used = new Set<number>()
  for (let index = 0; index < rows.length; index += 1) used.add((rows.run[index] ?? 0) * 0x10000 + (rows.instrument[index] ?? 0))
  for (const pair of used) {
    const [run, instrument] = [runs[Math.floor(pair / 0x10000)], instruments[pair % 0x10000]]
    if (!run || !instrument) throw new Error('a reading has its run and instrument')
    const context = contexts.of(run.runId)
    pinInstrument(transaction, context, contexts.instrument(context, instrument.id))
  }
}

function writeRows(transaction: Transaction, gathered: GatheredImport, watch: KeepWatch): void {
  const { session, entryId, command } = transaction
  const { segment } = session.file
  if (!segment) throw problem('read_only', message('error.read_only', {}))
  const { rows, runs } = gathered
  const { batches } = session.stores
  const personRowId = session.person(command.personId)
  const segmentRowId = segment.id
  const next = batches.next(segmentRowId)
  const write = batches.writer(segmentRowId, entryId)
  const places = placesByRun(rows, runs.length, next.number)
  const oneByOne = rows.length <= MOST_ONE_BY_ONE
  const hashes = runs.map(() => new ReadingsHash())
  for (let index = 0; index < rows.length; index += 1) {
    const run = rows.run[index] ?? 0
    const number = places.next[run] ?? 0
    places.next[run] = number + 1
    const { row, point, instrumentId, flags } = rowAt(gathered, index, personRowId)
    const stored = flags.join(' ')
    write(next.rowId + index, number, row, stored)
    if (oneByOne) {
      const reading = readingOf(row, { id: `${segment.uuid}:${number}`, point, instrumentId, personId: command.personId })
      transaction.changes.push({ what: 'reading', runId: runs[run]?.runId ?? '', reading })
    } else hashes[run]?.add({ ...row, point, instrumentId, personId: command.personId, flags: stored })
    if (index % ROWS_PER_REPORT !== 0) continue
    if (watch.cancelled()) throw CANCELLED
    watch.progress(index / rows.length)
  }
  if (oneByOne) return
  for (const [index, hash] of hashes.entries()) {
    if (hash.rows === 0) continue
    const first = `${segment.uuid}:${places.first[index]}`
    transaction.changes.push({ what: 'readings', runId: runs[index]?.runId ?? '', first, count: hash.rows, sha256: hash.digest() })
  }
}

/** The readings of one run follow each other by number, however the file mixes them. */
function placesByRun(rows: ImportedRows, runs: number, from: number): { first: readonly number[]; next: number[] } {
  const counts = new Array<number>(runs).fill(0)
  for (let index = 0; index < rows.length; index += 1) {
    const run = rows.run[index] ?? 0
    counts[run] = (counts[run] ?? 0) + 1
  }
  let at = from
  const first = counts.map((count) => {
    at += count
    return at - count
  })
  return { first, next: [...first] }
}

function rowAt({ rows, runs, instruments }: GatheredImport, index: number, personRowId: number) {
  const run = runs[rows.run[index] ?? 0]
  const at = rows.point[index] ?? 0
  const instrument = instruments[rows.instrument[index] ?? 0]
  const [locationRowId, point, quantity] = [run?.pointRows[at], run?.pointNumbers[at], run?.quantities[at]]
  if (!run || !instrument || locationRowId === undefined || point === undefined || !quantity) throw new Error(`row ${index} has no place`)
  const flags = rows.flagSets[rows.flags[index] ?? 0] ?? []
  const row: NewReading = {
    runRowId: run.rowId,
    locationRowId,
    sample: rows.sample[index] ?? 1,
    quantity,
    si: rows.si[index] ?? Number.NaN,
    typed: rows.typed[index] ?? '',
    unit: unitAt(rows, index),
    basis: 'as_indicated',
    instrumentRowId: instrument.rowId,
    personRowId,
    atMs: rows.atMs[index] ?? 0,
    flags,
    note: '',
  }
  return { row, point, instrumentId: instrument.id, flags }
}

function readingOf(row: NewReading, more: Pick<Reading, 'id' | 'point' | 'instrumentId' | 'personId'>): Reading {
  const { sample, quantity, si, typed, unit, basis, note } = row
  return {
    ...more,
    sample,
    quantity,
    si,
    typed,
    unit,
    basis,
    at: new Date(row.atMs).toISOString(),
    flags: [...row.flags],
    note,
    voided: null,
  }
}

function attach({ session, entryId, changes }: Transaction, { outcome, ownerId }: GatheredImport, order: ImportOrder, id: string): void {
  const { attachments, entities } = session.stores
  const ownerRowId = entities.rowOf(ownerId)
  if (ownerRowId === null) throw problem('not_found', message('error.not_found', { what: 'entity' }))
  const content = keptContent(order.path, outcome)
  const sha256 = attachments.addContent(content)
  const name = (outcome.keptWhole ? outcome.name : `${outcome.name}.sha256`).slice(-200)
  const bytes = content.length
  attachments.insert({ id, ownerId, name, mediaType: outcome.keptWhole ? 'text/csv' : 'text/plain', bytes, sha256, entryId }, ownerRowId)
  changes.push({ what: 'attachment', id, sha256, name, bytes, ownerId })
}
