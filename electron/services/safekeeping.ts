import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { Failure } from '#core/api/errors.ts'
import { message } from '#core/messages/say.ts'
import { type BackupOptions, keepBackups } from '../project-file/backup.ts'
import { ProblemError } from '../project-file/problem.ts'
import { SIGNAL_BYTES } from './job-signals.ts'
import type { JobMessage } from './job-worker.ts'
import type { Session } from './session.ts'
import { workerEntry } from './worker-entry.ts'

/** What looks after an open project beside the work. `stop` waits for what is under way; call it before the file is closed. */
export type Safekeeping = { readonly stop: () => Promise<void> }

/**
 * Backs up an open project now and then and reads it through once, because damage on the disk is met by the work only where it is
 * read. Both stop nothing but writing into a file that was found damaged. What they find is a notice of the project.
 */
export function safekeep(session: Session, options: BackupOptions & { readonly workerFile?: URL | undefined }): Safekeeping {
  const { publish, log } = session.options
  const tell = () => publish({ what: 'file' })
  const damaged = (failure: Failure) => {
    if (session.damage) return
    const detail = failure.sentence.params.detail
    session.damage = message('file.found_damaged', {
      name: path.basename(session.file.path),
      detail: typeof detail === 'string' ? detail : '',
    })
    tell()
  }
  const backups = keepBackups(session.file, {
    ...options,
    onMade: () => {
      if (!session.backupFailed) return
      session.backupFailed = null
      tell()
    },
    onFailure: (sentence, cause) => {
      log(cause)
      if (cause instanceof ProblemError && cause.failure.kind === 'damaged_file') return damaged(cause.failure)
      session.backupFailed = sentence
      tell()
    },
  })
  const look = lookThrough(session, options.workerFile ?? workerEntry(), damaged)
  return {
    stop: async () => {
      await backups.stop()
      // One call into SQLite, which nothing can break off; a thread that is ended within it would leave its connection to chance.
      await look
    },
  }
}

/** On a network drive the file has one user only, and a second connection would be kept out. */
function lookThrough({ file, options: { log } }: Session, entry: URL, damaged: (failure: Failure) => void): Promise<void> | null {
  if (file.journal === 'network') return null
  const order = { kind: 'look_for_damage', projectPath: file.path }
  const worker = new Worker(entry, { workerData: { order, stop: new SharedArrayBuffer(SIGNAL_BYTES) } })
  worker.unref()
  worker.on('message', (told: JobMessage) => {
    if (told.tell !== 'failed') return
    if (told.failure?.kind === 'damaged_file') damaged(told.failure)
    else log(told.cause)
  })
  worker.on('error', log)
  return new Promise((resolve) => worker.once('exit', () => resolve()))
}
