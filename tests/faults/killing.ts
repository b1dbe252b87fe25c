import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { readdirSync } from 'node:fs'
import { basename, dirname } from 'node:path'
import { v7 } from 'uuid'
import { backupFolder } from '#electron/project-file/backup-folder.ts'
import { checkProject } from '#electron/project-file/check/check.ts'
import { openProjectFile } from '#electron/project-file/open.ts'
import type { PreparedRun } from './prepared-run.ts'

/** Where a kill fell, as the recorder's own words and the file tell it. */
export type Fell =
  | 'before the first recording'
  | 'inside a recording, taken back whole'
  | 'inside a recording, kept whole though unanswered'
  | 'between recordings'
  | 'while closing'
  | 'after the end'

export type Killed = {
  readonly fell: Fell
  readonly answered: number
  readonly lost: readonly string[]
  readonly unsound: readonly string[]
}

/** Kills by the clock: so many milliseconds after the recorder is ready. */
export async function killAfter(prepared: PreparedRun, delayMs: number): Promise<Killed> {
  return killed(prepared, 5000, (child) => setTimeout(() => child.kill('SIGKILL'), delayMs), [])
}

/** Kills at the entry of the n-th call of one kind, by the tracer: the call itself is never carried out. */
export async function killAtCall(prepared: PreparedRun, call: string, ordinal: number, recordings: number): Promise<Killed> {
  const tracer = ['strace', '-qq', '-o', '/dev/null', '-e', `trace=${call}`, '-e', `inject=${call}:signal=KILL:when=${ordinal}`]
  return killed(prepared, recordings, null, tracer)
}

async function killed(
  prepared: PreparedRun,
  recordings: number,
  whenReady: ((child: ChildProcess) => void) | null,
  tracer: string[],
): Promise<Killed> {
  const copy = prepared.fresh()
  try {
    const [program = '', ...parameters] = [...tracer, ...copy.command(recordings, whenReady ? 'browser' : 'headless')]
    const child = spawn(program, parameters, { stdio: ['ignore', 'pipe', 'pipe'] })
    let said = ''
    let complaint = ''
    let armed = false
    child.stderr.on('data', (bytes) => {
      complaint += String(bytes)
    })
    child.stdout.on('data', (bytes) => {
      said += String(bytes)
      if (armed || !said.includes('ready\n')) return
      armed = true
      whenReady?.(child)
    })
    await once(child, 'close')
    if (child.exitCode !== null && child.exitCode !== 0 && !/killed|Killed|^$/.test(complaint.trim()))
      throw new Error(`the recorder failed by itself: ${complaint}`)
    const found = inspect(copy.path, said)
    return { ...found, unsound: [...found.unsound, ...sideFiles(copy.path).map((name) => `${name} was left`)] }
  } finally {
    copy.remove()
  }
}

/** Opens what the kill left and holds it against what the recorder had been answered. */
function inspect(path: string, said: string): Killed {
  const lines = said.split('\n').slice(0, -1)
  const answered = lines.filter((line) => line.startsWith('answered')).map((line) => line.split(' '))
  const begun = lines.filter((line) => line.startsWith('begin')).length
  const file = openProjectFile(path, { clock: () => Date.now(), uuid: () => v7(), who: 'test', where: 'test', version: 'test' })
  try {
    const typedOf = file.db
      .prepare<[Buffer, number], string>(
        'SELECT r.typed FROM reading r JOIN segment s ON s.id = r.segment_id WHERE s.uuid = ? AND r.number = ?',
      )
      .pluck()
    const lost = answered.filter(([, , id = '', typed]) => {
      const [segment = '', number] = id.split(':')
      return typedOf.get(Buffer.from(segment.replaceAll('-', ''), 'hex'), Number(number)) !== typed
    })
    const rows = Number(file.db.prepare('SELECT count(*) FROM reading').pluck().get())
    const unsound = (checkProject(file) ?? []).filter(({ kind }) => kind !== 'ok').map(({ sentence }) => JSON.stringify(sentence))
    if (rows > begun || rows < answered.length) unsound.push(`${rows} readings, where ${begun} were begun and ${answered.length} answered`)
    return {
      fell: whereItFell(lines, begun, answered.length, rows),
      answered: answered.length,
      lost: lost.map((line) => line.join(' ')),
      unsound,
    }
  } finally {
    file.close()
  }
}

/** One file at rest, whatever the kill left, once it was opened and closed again. */
function sideFiles(path: string): string[] {
  return readdirSync(dirname(path)).filter(
    (name) => name !== basename(path) && name !== 'settings' && name !== basename(backupFolder(path)),
  )
}

function whereItFell(lines: readonly string[], begun: number, answered: number, rows: number): Fell {
  if (lines.includes('closed')) return 'after the end'
  if (lines.includes('closing')) return 'while closing'
  if (begun === 0) return 'before the first recording'
  if (begun === answered) return 'between recordings'
  return rows === answered ? 'inside a recording, taken back whole' : 'inside a recording, kept whole though unanswered'
}
