import { mkdirSync, readdirSync, rmSync, statSync } from 'node:fs'
import { basename, extname, join } from 'node:path'
import { message } from '#core/messages/say.ts'
import type { Sentence } from '#core/model/results.ts'
import { backupFolder } from './backup-folder.ts'
import { type Backup, beyondLadder } from './backup-ladder.ts'
import { type Copied, writeCopy } from './copy.ts'
import { classify, ProblemError } from './problem.ts'
import type { ProjectFile } from './project-file.ts'
import { projectHead } from './segment.ts'

export type BackupOptions = {
  readonly clock: () => number
  readonly uuid: () => string
  /** the most that all backups of one project may take; the newest is kept in any case */
  readonly budgetBytes?: number
}

const DEFAULT_BUDGET_BYTES = 1024 * 1024 * 1024
const BACKUP_EVERY_MS = 15 * 60_000
const HEAD_DIGITS = 12

/** The backups of a project, newest first. Their names tell when they were made (UTC) and the head of the trail they hold. */
export function listBackups(projectPath: string): (Backup & { readonly head: string })[] {
  const folder = backupFolder(projectPath)
  const ending = endingOf(projectPath)
  return namesIn(folder)
    .flatMap((name) => {
      // Beside a backup that somebody reads lie its side files, and folders may lie there too.
      if (!name.endsWith(ending)) return []

      const found = /(\d{4}-\d{2}-\d{2}) (\d{2})-(\d{2})-(\d{2})Z ([0-9a-f]{12})\.[^.]+$/.exec(name)
      if (!found) return []
      const [, date, hour, minute, second, head = ''] = found
      const stat = statSync(join(folder, name), { throwIfNoEntry: false })
      return stat?.isFile() ? [{ name, atMs: Date.parse(`${date}T${hour}:${minute}:${second}Z`), bytes: stat.size, head }] : []
    })
    .sort((a, b) => b.atMs - a.atMs)
}

/** Makes a backup unless the newest one holds the same trail, then thins them out. Answers null where there was nothing to do. */
export async function backUp(file: ProjectFile, options: BackupOptions): Promise<Copied | null> {
  const head = projectHead(file.db).slice(0, HEAD_DIGITS)
  if (listBackups(file.path).at(0)?.head === head) return null
  const folder = backupFolder(file.path)
  const nowMs = options.clock()
  try {
    mkdirSync(folder, { recursive: true })
    removeUnfinished(folder)
    const copied = await writeCopy(file, join(folder, nameOf(file.path, nowMs, head)), options.uuid())
    for (const backup of beyondLadder(listBackups(file.path), nowMs, options.budgetBytes ?? DEFAULT_BUDGET_BYTES))
      rmSync(join(folder, backup.name), { force: true })
    return copied
  } catch (error) {
    throw classify(error, folder)
  }
}

/**
 * Backs up now and then on a timer for as long as the file is open. A failure is told by a sentence and never stops the work.
 * `stop` waits for a backup in flight; call it before the file is closed.
 */
export function keepBackups(
  file: ProjectFile,
  options: BackupOptions & {
    readonly everyMs?: number
    /** a backup was made, or none was due */
    readonly onMade?: () => void
    readonly onFailure: (sentence: Sentence, cause: unknown) => void
  },
): { readonly stop: () => Promise<void> } {
  let running: Promise<void> = Promise.resolve()
  const attempt = () => {
    running = running.then(async () => {
      try {
        if (!file.db.open) return
        await backUp(file, options)
        options.onMade?.()
      } catch (error) {
        const kind = error instanceof ProblemError ? error.failure.kind : 'internal'
        options.onFailure(message('file.backup_failed', { kind }), error)
      }
    })
  }
  if (file.readOnly) return { stop: () => running }
  attempt()
  const timer = setInterval(attempt, options.everyMs ?? BACKUP_EVERY_MS)
  timer.unref()
  return {
    stop: () => {
      clearInterval(timer)
      return running
    },
  }
}

/** What a crash in the middle of an earlier backup left. Only the holder of the lock makes backups, so nobody is at work on them. */
function removeUnfinished(folder: string): void {
  for (const name of namesIn(folder)) if (/^\..*\.new(-\w+)?$/.test(name)) rmSync(join(folder, name), { force: true })
}

const endingOf = (projectPath: string) => extname(projectPath) || '.facegrid'

function nameOf(projectPath: string, nowMs: number, head: string): string {
  const ending = endingOf(projectPath)
  const at = new Date(nowMs).toISOString()
  return `${basename(projectPath, ending)} ${at.slice(0, 10)} ${at.slice(11, 19).replaceAll(':', '-')}Z ${head}${ending}`
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder)
  } catch {
    return []
  }
}
