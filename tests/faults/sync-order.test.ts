import { dirname } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type PreparedRun, prepareRun } from './prepared-run.ts'
import { hasTracer, type TracedCall, traceRecorder, whileRecording } from './traced-calls.ts'

const RECORDINGS = 80
let prepared: PreparedRun
let calls: TracedCall[]
beforeAll(async () => {
  prepared = await prepareRun()
  if (hasTracer) calls = traceRecorder(prepared, RECORDINGS)
})
afterAll(() => prepared.remove())

const says = (word: string) => (call: TracedCall) => call.call === 'write' && call.text.startsWith(`, "${word}`)
const isSync = ({ call }: TracedCall) => call === 'fsync' || call === 'fdatasync'

if (!hasTracer) console.warn('NOT RUN: the order of sync and answer. strace is not installed here.')

it.runIf(hasTracer)('the log is written and its sync has finished before any answer leaves', () => {
  const recording = whileRecording(calls)
  const answers = recording.flatMap((call, index) => (says('answered')(call) ? [index] : []))
  expect(answers).toHaveLength(RECORDINGS)
  for (const answer of answers) {
    const begin = recording.slice(0, answer).findLastIndex(says('begin'))
    const between = recording.slice(begin + 1, answer)
    const written = between.findLastIndex(({ call, target }) => call === 'pwrite64' && target.endsWith('.facegrid-wal'))
    expect(written).toBeGreaterThanOrEqual(0)
    const synced = between.slice(written + 1).filter((call) => isSync(call) && call.target.endsWith('.facegrid-wal'))
    expect(synced.map(({ result }) => result)).toEqual([0])
  }
})

it.runIf(hasTracer)('the name of a new log is on the disk before the first answer leaves', () => {
  const firstAnswer = calls.findIndex(says('answered'))
  const firstWritten = calls.findIndex(({ call, target }) => call === 'pwrite64' && target.endsWith('.facegrid-wal'))
  const folder = dirname(calls[firstWritten]?.target ?? '')
  const synced = calls.slice(firstWritten, firstAnswer).filter((call) => isSync(call) && call.target === folder)
  expect(synced.map(({ result }) => result)).toContain(0)
})

it.runIf(hasTracer)('the log is folded into the file only after it is synced, and removed only after the file is', () => {
  const closing = calls.slice(calls.findIndex(says('closing')))
  const folded = closing.findIndex(({ call, target }) => call === 'pwrite64' && target.endsWith('.facegrid'))
  const removed = closing.findIndex(({ call, target }) => call === 'unlink' && target.endsWith('.facegrid-wal'))
  expect(folded).toBeGreaterThan(0)
  expect(removed).toBeGreaterThan(folded)
  expect(closing.slice(0, folded).some((call) => isSync(call) && call.target.endsWith('.facegrid-wal'))).toBe(true)
  const lastFolded = closing.slice(0, removed).findLastIndex(({ call, target }) => call === 'pwrite64' && target.endsWith('.facegrid'))
  expect(closing.slice(lastFolded, removed).some((call) => isSync(call) && call.target.endsWith('.facegrid'))).toBe(true)
})
