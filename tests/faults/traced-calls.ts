import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { PreparedRun } from './prepared-run.ts'

/** Calls by which a recording reaches the disk or an answer leaves. */
const CALLS = ['write', 'pwrite64', 'fsync', 'fdatasync', 'ftruncate', 'unlink'] as const

/** One call of the recorder's main thread. `ordinal` counts calls of its kind from the start of the process. */
export type TracedCall = {
  readonly call: string
  readonly ordinal: number
  readonly target: string
  readonly text: string
  readonly result: number
}

export const hasTracer = spawnSync('strace', ['-V']).status === 0

/** Runs the recorder under the tracer and lists its calls in order. The main thread alone is traced: SQLite works in it. */
export function traceRecorder(prepared: PreparedRun, recordings: number): TracedCall[] {
  const copy = prepared.fresh()
  const folder = mkdtempSync(join(tmpdir(), 'facegrid-trace-'))
  const output = join(folder, 'trace')
  try {
    const done = spawnSync(
      'strace',
      ['-qq', '-y', '-s', '64', '-o', output, '-e', `trace=${CALLS.join(',')}`, ...copy.command(recordings, 'headless')],
      {
        encoding: 'utf8',
      },
    )
    if (done.status !== 0) throw new Error(`the recorder failed under the tracer: ${done.stderr}`)
    const counts = new Map<string, number>()
    return readFileSync(output, 'utf8')
      .split('\n')
      .flatMap((line) => {
        const found = /^(\w+)\((?:\d+<([^>]*)>|"([^"]*)")(.*)\)\s+= (-?\d+)/.exec(line)
        if (!found) return []
        const [, call = '', byDescriptor, byName, text = '', result] = found
        const ordinal = (counts.get(call) ?? 0) + 1
        counts.set(call, ordinal)
        return [{ call, ordinal, target: byDescriptor ?? byName ?? '', text, result: Number(result) }]
      })
  } finally {
    copy.remove()
    rmSync(folder, { recursive: true, force: true })
  }
}

/** The calls from the moment the recorder is ready to its last word. */
export function whileRecording(calls: readonly TracedCall[]): TracedCall[] {
  const ready = calls.findIndex(({ call, text }) => call === 'write' && text.includes('ready'))
  const closed = calls.findIndex(({ call, text }) => call === 'write' && text.includes('closed'))
  if (ready < 0 || closed < 0) throw new Error('the trace does not show the recorder from ready to closed')
  return calls.slice(ready + 1, closed + 1)
}
