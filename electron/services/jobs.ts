import { mkdirSync, rmSync } from 'node:fs'
import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { z } from 'zod'
import type { Command } from '#core/api/base.ts'
import type { ImportOrder } from '#core/api/imports.ts'
import type { Job as JobSchema } from '#core/api/jobs.ts'
import { message } from '#core/messages/say.ts'
import { writeCopy } from '../project-file/copy.ts'
import { ProblemError, problem } from '../project-file/problem.ts'
import type { Workspace } from './files.ts'
import { exchangePath, sourcePath } from './folders.ts'
import { isGathered, WritingGate, writeHere } from './imports/writing.ts'
import { MAY_WRITE, SIGNAL_BYTES, STOP } from './job-signals.ts'
import type { JobOrder, JobOutcome } from './job-work.ts'
import type { JobMessage } from './job-worker.ts'
import type { Change, Session } from './session.ts'
import { Turned } from './turn-job.ts'
import { isLongTurn, turn } from './undo.ts'
import { workerEntry } from './worker-entry.ts'

type Job = z.infer<typeof JobSchema>
type Running = {
  readonly worker: Worker
  readonly signals: Int32Array
  readonly ended: Promise<void>
  readonly session: Session
  readonly order: JobOrder
}

const KEPT_JOBS = 50

/** Long work in worker threads that only read, while recording goes on; an import writes at its end, and undo of one, and then commands wait for it. */
export class Jobs {
  readonly #workspace: Workspace
  readonly #publish: (event: Change) => void
  readonly #log: (error: unknown) => void
  readonly #jobs = new Map<string, Job>()
  readonly #running = new Map<string, Running>()
  readonly #gate = new WritingGate()

  constructor(workspace: Workspace, publish: (event: Change) => void, log: (error: unknown) => void) {
    this.#workspace = workspace
    this.#publish = publish
    this.#log = log
  }

  startCheck(): Promise<Job> {
    return this.#start((projectPath) => ({ kind: 'check', projectPath }))
  }

  startExport(requested: string): Promise<Job> {
    const { access, uuid } = this.#workspace.options
    const target = exchangePath(access, requested)
    return this.#start((projectPath) => ({ kind: 'export', projectPath, target, uniqueName: uuid() }))
  }

  /** Reads a delimited file and, unless it is a dry run, writes its readings. */
  startImport(order: ImportOrder): Promise<Job> {
    const { session, options } = this.#workspace
    if (!order.dryRun) session.refuseWriting()
    const { segment, journal } = session.file
    const path = sourcePath(options.access, order.path, 'path')
    return this.#start((projectPath) => ({
      kind: 'import',
      projectPath,
      order: { ...order, path },
      attachmentId: options.uuid(),
      nowMs: options.clock(),
      writer: segment && journal === 'wal' ? { uuid: segment.uuid, opened: segment.opened } : null,
    }))
  }

  /** Undo or redo: at once, or by a worker where that takes long, so that the engine goes on answering. Resolves when it is written. */
  async turn(direction: 'undo' | 'redo', asked: { readonly command: Command; readonly scope: string }): Promise<Turned> {
    const { session, options } = this.#workspace
    const { segment, journal } = session.file
    session.refuseWriting()
    if (!segment || journal !== 'wal' || !isLongTurn(session, asked, direction)) return turn(session, asked, direction)
    const writer = { uuid: segment.uuid, opened: segment.opened }
    const { id } = await this.#start((projectPath) => ({ kind: direction, projectPath, ...asked, nowMs: options.clock(), writer }))
    await this.#running.get(id)?.ended
    const { state, failure, result } = this.get(id)
    if (state === 'cancelled') throw problem('refused', message('error.turn_stopped', {}))
    if (failure) throw new ProblemError(failure)
    return Turned.parse(result)
  }

  get isWriting(): boolean {
    return this.#gate.closed
  }

  /** Resolves at once, or when the worker that writes now has ended. */
  get mayWrite(): Promise<void> {
    return this.#gate.free
  }

  get(id: string): Job {
    const job = this.#jobs.get(id)
    if (!job) throw problem('not_found', message('error.not_found', { what: 'job' }))
    return job
  }

  cancel(id: string): Job {
    const job = this.get(id)
    const running = this.#running.get(id)
    if (running) stopWorker(running)
    return job
  }

  /** Cancels what still runs and waits for it: before the file is closed. */
  async stop(): Promise<void> {
    for (const running of this.#running.values()) stopWorker(running)
    await Promise.all([...this.#running.values()].map(({ ended }) => ended))
  }

  async #start(orderFor: (projectPath: string) => JobOrder): Promise<Job> {
    const { options, session } = this.#workspace
    const id = options.uuid()
    const copy = session.file.journal === 'network' ? await this.#copyOf(id) : null
    const order = orderFor(copy ?? session.file.path)
    const signals = new Int32Array(new SharedArrayBuffer(SIGNAL_BYTES))
    const entry = options.workerFile ?? workerEntry()
    const worker = new Worker(entry, { workerData: { order, stop: signals.buffer } })
    this.#keep({ id, kind: order.kind, state: 'running', progress: 0, result: null, failure: null })
    worker.on('message', (told: JobMessage) => this.#told(id, told))
    worker.on('error', (error) => this.#told(id, { tell: 'failed', failure: null, cause: error.stack ?? error.message }))
    const ended = new Promise<void>((resolve) => {
      worker.once('exit', () => {
        this.#running.delete(id)
        this.#gate.open(id, this.#publish)
        if (copy) rmSync(copy, { force: true })
        resolve()
      })
    })
    this.#running.set(id, { worker, signals, ended, session, order })
    return this.get(id)
  }

  /** On a network drive the file has one user only, so the work is done on a copy of it. */
  async #copyOf(id: string): Promise<string> {
    const { options, session } = this.#workspace
    const folder = path.join(options.settingsFolder, 'work')
    mkdirSync(folder, { recursive: true })
    return (await writeCopy(session.file, path.join(folder, `${id}.facegrid`), options.uuid())).path
  }

  #told(id: string, told: JobMessage): void {
    const job = this.#jobs.get(id)
    if (job?.state !== 'running') return
    if (told.tell === 'progress') this.#keep({ ...job, progress: told.share })
    else if (told.tell === 'waits_to_write') void this.#letWrite(id)
    else if (told.tell === 'changed') this.#gate.changed(id, told.event)
    else {
      this.#gate.open(id, this.#publish)
      this.#end(job, told)
    }
  }

  #end(job: Job, told: Extract<JobMessage, { tell: 'done' | 'failed' }>): void {
    if (told.tell === 'done') {
      const outcome = this.#written(job, told.outcome)
      if (outcome === 'failed') return
      const state = outcome === null ? 'cancelled' : 'done'
      this.#keep({ ...job, state, progress: state === 'done' ? 1 : job.progress, result: outcome })
    } else {
      if (told.failure === null) this.#log(told.cause)
      const internal = { kind: 'internal' as const, sentence: message('error.internal', { cause: 'job' }), field: null }
      this.#keep({ ...job, state: 'failed', failure: told.failure ?? internal })
    }
  }

  /** Lets a worker write as soon as no other one does; from then on commands wait. */
  async #letWrite(id: string): Promise<void> {
    while (this.#gate.closed) await this.#gate.free
    const running = this.#running.get(id)
    if (!running) return
    this.#gate.close(id, running.session)
    Atomics.store(running.signals, MAY_WRITE, 1)
    Atomics.notify(running.signals, MAY_WRITE)
  }

  /** The outcome of an import that the worker could only read is made here. */
  #written(job: Job, outcome: JobOutcome | null): JobOutcome | null | 'failed' {
    const running = this.#running.get(job.id)
    if (!isGathered(outcome) || running?.order.kind !== 'import') return outcome
    const { order, attachmentId } = running.order
    try {
      return Atomics.load(running.signals, STOP) === 1 ? null : writeHere(running.session, outcome, order, attachmentId)
    } catch (error) {
      const failure = error instanceof ProblemError ? error.failure : null
      this.#end(job, { tell: 'failed', failure, cause: error instanceof Error ? (error.stack ?? error.message) : String(error) })
      return 'failed'
    }
  }

  #keep(job: Job): void {
    this.#jobs.set(job.id, job)
    for (const id of this.#jobs.keys()) {
      if (this.#jobs.size <= KEPT_JOBS) break
      if (!this.#running.has(id) && id !== job.id) this.#jobs.delete(id)
    }
    this.#publish({ what: 'job', job })
  }
}

function stopWorker({ signals }: Running): void {
  Atomics.store(signals, STOP, 1)
  // It may be waiting for its turn to write.
  Atomics.store(signals, MAY_WRITE, 1)
  Atomics.notify(signals, MAY_WRITE)
}
