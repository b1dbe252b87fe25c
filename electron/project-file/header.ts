import { closeSync, existsSync, fstatSync, openSync, readSync, statSync } from 'node:fs'
import { basename } from 'node:path'
import { message } from '#core/messages/say.ts'
import { NEWEST_STEP } from './migrate.ts'
import { APPLICATION_ID } from './pragmas.ts'
import { problem } from './problem.ts'

/** What the first 100 bytes of a project file say (SQLite file format, section 1.3), and the side files beside it. */
export type Header = {
  readonly step: number
  readonly writeAheadMode: boolean
  /** bytes waiting in the write-ahead log or the rollback journal: more than 0 after a crash, or while someone writes */
  readonly waitingBytes: number
  /** a rollback journal is waiting, which only a writer can play back */
  readonly waitingJournal: boolean
  /** a file in write-ahead mode without its log was copied alone while it was open, or was parted from the log: changes may be missing */
  readonly logMissing: boolean
}

const MAGIC = 'SQLite format 3\0'

/**
 * Reads the header without SQLite and refuses whatever is not a project of a step we know. Changes nothing. Never call it for a file
 * that this process has open: closing any descriptor of a file drops the process's locks on it.
 */
export function readHeader(path: string): Header {
  const name = basename(path)
  const { bytes, size } = firstBytes(path)
  if (size === 0) throw problem('not_a_project', message('file.empty', { name }))
  if (bytes.length < 100 || bytes.toString('latin1', 0, 16) !== MAGIC || bytes.readUInt32BE(68) !== APPLICATION_ID)
    throw problem('not_a_project', message('file.not_a_project', { name }))
  const step = bytes.readUInt32BE(60)
  refuseNewer(path, step)
  const wal = bytesOf(`${path}-wal`)
  const journal = bytesOf(`${path}-journal`)
  const writeAheadMode = bytes.readUInt8(18) === 2
  if (wal === 0 && journal === 0 && !writeAheadMode) refuseCutOff(name, bytes, size)
  const logMissing = writeAheadMode && !existsSync(`${path}-wal`)
  return { step, writeAheadMode, logMissing, waitingBytes: wal + journal, waitingJournal: journal > 0 }
}

/** Refuses a file of a later schema step. */
export function refuseNewer(path: string, step: number): void {
  if (step > NEWEST_STEP)
    throw problem('newer_file', message('file.newer', { name: basename(path), fileStep: step, knownStep: NEWEST_STEP }))
  if (step < 1) throw problem('damaged_file', message('file.damaged', { name: basename(path), detail: 'its step number is missing' }))
}

/** A copy that was cut short is the commonest damage of all, and the header tells it at once. */
function refuseCutOff(name: string, bytes: Buffer, size: number): void {
  const pageSize = bytes.readUInt16BE(16) === 1 ? 65536 : bytes.readUInt16BE(16)
  const pageCountIsCurrent = bytes.readUInt32BE(24) === bytes.readUInt32BE(92)
  const expected = bytes.readUInt32BE(28) * pageSize
  if (pageCountIsCurrent && size < expected)
    throw problem('damaged_file', message('file.damaged', { name, detail: `it ends after ${size} of ${expected} bytes` }))
}

function firstBytes(path: string): { bytes: Buffer; size: number } {
  const descriptor = openSync(path, 'r')
  try {
    const buffer = Buffer.alloc(100)
    const read = readSync(descriptor, buffer, 0, 100, 0)
    return { bytes: buffer.subarray(0, read), size: fstatSync(descriptor).size }
  } finally {
    closeSync(descriptor)
  }
}

function bytesOf(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.size ?? 0
}
