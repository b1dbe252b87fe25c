import path from 'node:path'
import type { z } from 'zod'
import type { ChangeEvent } from '#core/api/changes.ts'
import { message, type ParamsOf } from '#core/messages/say.ts'
import type { EntityKind } from '#core/model/entities.ts'
import type { Sentence } from '#core/model/results.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { problem } from '../project-file/problem.ts'
import type { ProjectFile } from '../project-file/project-file.ts'
import { createStores, type Stores } from '../project-file/stores.ts'
import { Certificates } from './certificates.ts'
import { LocalDates, RunContexts } from './run-context.ts'
import { VisitCache } from './visit-cache.ts'

export type Change = z.infer<typeof ChangeEvent>

type DamageFound = { readonly code: 'file.found_damaged'; readonly params: ParamsOf<'file.found_damaged'> }

export type SessionOptions = {
  readonly clock: () => number
  readonly uuid: () => string
  readonly publish: (event: Change) => void
  readonly log: (error: unknown) => void
  /** false: results kept in the file are not believed, everything is worked out anew; true unless said */
  readonly believesKept?: boolean
}

/** One open project: its stores, the outside world handed in, and small caches that every change outside recording throws away. */
export class Session {
  readonly file: ProjectFile
  readonly stores: Stores
  readonly options: SessionOptions
  readonly contexts: RunContexts
  readonly cache: VisitCache
  readonly certificates: Certificates
  /** what was found wrong with the file since it was opened; then nothing is written into it any more */
  damage: DamageFound | null = null
  /** why no automatic backup could be made when it was last tried */
  backupFailed: Sentence | null = null
  /** what became of the project that was open before this one, where that has to be known */
  before: Sentence | null = null
  /** what has to be known of the exchange file that this project was just made of */
  imported: Sentence | null = null
  readonly #people = new Map<string, number>()
  readonly #actors = new Set<string>()
  #timeZone: string | null = null
  #projectId: string | null = null
  #localDates: LocalDates | null = null

  constructor(file: ProjectFile, options: SessionOptions) {
    this.file = file
    this.options = options
    this.stores = createStores(file)
    this.contexts = new RunContexts(this)
    this.cache = new VisitCache(this.stores, options.believesKept ?? true)
    this.certificates = new Certificates(this.stores)
  }

  /** Forgets what was read from the file; called after every change but a recording, which keeps its own context up to date. */
  forget(): void {
    this.#people.clear()
    this.#actors.clear()
    this.#timeZone = null
    this.#projectId = null
    this.#localDates = null
    this.contexts.clear()
    this.stores.readings.forgetNumbers()
  }

  get projectId(): string {
    this.#projectId ??= this.#project().entity.id
    return this.#projectId
  }

  /** IANA zone of the site. */
  get timeZone(): string {
    this.#timeZone ??= this.#project().entity.body.timeZone
    return this.#timeZone
  }

  get localDates(): LocalDates {
    this.#localDates ??= new LocalDates(this.timeZone)
    return this.#localDates
  }

  /**
   * Refuses a command by somebody who is no person of this project, or one out of use. Where nobody is in use any more, anybody may
   * still act: else nobody could ever be put back.
   */
  refuseActor(id: string): void {
    if (this.#actors.has(id)) return
    const { body } = this.find('person', id, 'command.personId').entity
    if (!body.active && this.stores.entities.list('person').some(({ entity }) => entity.body.active)) {
      throw problem('refused', message('error.person_inactive', { name: body.name }), { field: 'command.personId' })
    }
    this.#actors.add(id)
  }

  /** Row of a person of this project. */
  person(id: string): number {
    const known = this.#people.get(id)
    if (known !== undefined) return known
    const { rowId } = this.find('person', id, 'command.personId')
    this.#people.set(id, rowId)
    return rowId
  }

  /** Closes the file; what was only kept in memory is written before, where there is room: it can be worked out again. */
  close(): void {
    try {
      this.cache.flush()
    } catch (error) {
      this.options.log(error)
    }
    this.file.close()
  }

  /** Refuses a change to a file that is open for reading only, or that was found damaged since it was opened. */
  refuseWriting(): void {
    if (this.file.readOnly) throw problem('read_only', message('error.read_only', {}))
    if (this.damage) throw problem('damaged_file', this.damage)
    if (!this.file.inPlace()) throw problem('not_found', message('file.taken_away', { name: path.basename(this.file.path) }))
  }

  /** An entity of this kind that is still there, or not_found. */
  find<K extends EntityKind>(kind: K, id: string, field?: string): StoredEntity<K> {
    const stored = this.stores.entities.find(id)
    if (!stored || stored.entity.kind !== kind || stored.entity.removed) {
      throw problem('not_found', message('error.not_found', { what: kind }), field === undefined ? {} : { field })
    }
    // The kind was just compared.
    return stored as StoredEntity<K>
  }

  #project(): StoredEntity<'project'> {
    const [project] = this.stores.entities.list('project')
    if (!project) throw problem('not_found', message('error.not_found', { what: 'project' }))
    return project
  }
}
