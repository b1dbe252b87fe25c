import { existsSync, mkdirSync, rmSync } from 'node:fs'
import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { z } from 'zod'
import type { Job as JobSchema } from '#core/api/contract.ts'
import { message } from '#core/messages/say.ts'
import { writeCopy } from '../project-file/copy.ts'
import { problem } from '../project-file/problem.ts'
import type { Workspace } from './files.ts'
import { exchangePath } from './folders.ts'
import type { JobOrder } from './job-work.ts'
import type { JobMessage } from './job-worker.ts'
import type { Change } from './session.ts'

type Job = z.infer<typeof JobSchema>
type Running = { readonly worker: Worker; readonly stop: Int32Array; readonly ended: Promise<void> }

const KEPT_JOBS = 50

/** The worker's entry: the source file beside this one, or the file beside (or above) the bundle that this module ended up in. */
function workerEntry(): URL {
  const places = ['./job-worker.ts', './job-worker.js', '../job-worker.js'].map((place) => new URL(place, import.meta.url))
  const found = places.find((place) => existsSync(place))
  if (!found) throw new Error('the worker of long jobs is not part of this installation')
  return found
}

/** Long work in worker threads that only read, while recording goes on. */
export class Jobs {
  readonly #workspace: Workspace
  readonly #publish: (event: Change) => void
  readonly #log: (error: unknown) => void
  readonly #jobs = new Map<string, Job>()
  readonly #running = new Map<string, Running>()

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

  get(id: string): Job {
    const job = this.#jobs.get(id)
    if (!job) throw problem('not_found', message('error.not_found', { what: 'job' }))
    return job
  }

  cancel(id: string): Job {
    const job = this.get(id)
    const running = this.#running.get(id)
    if (running) Atomics.store(running.stop, 0, 1)
    return job
  }

  /** Cancels what still runs and waits for it: before the file is closed. */
  async stop(): Promise<void> {
    for (const { stop } of this.#running.values()) Atomics.store(stop, 0, 1)
    await Promise.all([...this.#running.values()].map(({ ended }) => ended))
  }

  async #start(orderFor: (projectPath: string) => JobOrder): Promise<Job> {
    const { options, session } = this.#workspace
    const id = options.uuid()
    const copy = session.file.journal === 'network' ? await this.#copyOf(id) : null
    const order = orderFor(copy ?? session.file.path)
    const stop = new Int32Array(new SharedArrayBuffer(4))
    const entry = options.workerFile ?? workerEntry()
    const worker = new Worker(entry, { workerData: { order, stop: stop.buffer } })
    this.#keep({ id, kind: order.kind, state: 'running', progress: 0, result: null, failure: null })
    worker.on('message', (told: JobMessage) => this.#told(id, told))
    worker.on('error', (error) => this.#told(id, { tell: 'failed', failure: null, cause: error.stack ?? error.message }))
    const ended = new Promise<void>((resolve) => {
      worker.once('exit', () => {
        this.#running.delete(id)
        if (copy) rmSync(copy, { force: true })
        resolve()
      })
    })
    this.#running.set(id, { worker, stop, ended })
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
    else if (told.tell === 'done') {
      const state = told.outcome === null ? 'cancelled' : 'done'
      this.#keep({ ...job, state, progress: state === 'done' ? 1 : job.progress, result: told.outcome })
    } else {
      if (told.failure === null) this.#log(told.cause)
      const internal = { kind: 'internal' as const, sentence: message('error.internal', { cause: 'job' }), field: null }
      this.#keep({ ...job, state: 'failed', failure: told.failure ?? internal })
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
