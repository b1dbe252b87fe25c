import { existsSync, mkdirSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { z } from 'zod'
import type { FilesState, OpenFile, Reopened } from '#core/api/files.ts'
import { LANGUAGES, message, type ParamsOf } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Sentence } from '#core/model/results.ts'
import type { EngineOptions } from '../engine.ts'
import { rescue, saveCopy } from '../project-file/copy.ts'
import { nameFinished, refuseUnusableTarget } from '../project-file/create.ts'
import { createProjectFile, openProjectFile } from '../project-file/open.ts'
import { classify, problem } from '../project-file/problem.ts'
import type { ProjectFile } from '../project-file/project-file.ts'
import { checkWritten } from './body-rules.ts'
import { commit } from './command.ts'
import { importExchange } from './exchange/import-file.ts'
import { readExchange } from './exchange/read-file.ts'
import { withoutBasis } from './exchange/without-basis.ts'
import { writeExchange } from './exchange/write-file.ts'
import { exchangePath, PROJECT_EXTENSION, projectPath, sourcePath } from './folders.ts'
import { reopen } from './reopen.ts'
import { type Safekeeping, safekeep } from './safekeeping.ts'
import { type Change, Session } from './session.ts'
import type { Settings, SettingsFile } from './settings.ts'

type Opened = z.infer<typeof OpenFile>
type TakenAway = { readonly code: 'file.was_taken_away'; readonly params: ParamsOf<'file.was_taken_away'> }
type Theme = Settings['theme']

/** The one project this engine has open, and the way in and out of it. */
export class Workspace {
  readonly options: EngineOptions
  readonly settings: SettingsFile
  readonly #publish: (event: Change) => void
  readonly #log: (error: unknown) => void
  #session: Session | null = null
  #safekeeping: Safekeeping | null = null
  #reopened: z.infer<typeof Reopened> | null = null
  #turn: Promise<unknown> = Promise.resolve()
  #stopWork: () => Promise<void> = () => Promise.resolve()

  constructor(options: EngineOptions, settings: SettingsFile, publish: (event: Change) => void, log: (error: unknown) => void) {
    this.options = options
    this.settings = settings
    this.#publish = publish
    this.#log = log
  }

  /** What has to end before a file is closed. */
  beforeLeaving(stopWork: () => Promise<void>): void {
    this.#stopWork = stopWork
  }

  /** The open project, or the failure that says that none is open. */
  get session(): Session {
    if (!this.#session) throw problem('no_project', message('error.no_project', {}))
    return this.#session
  }

  state(): z.infer<typeof FilesState> {
    const { theme, language, recent } = this.settings.current
    return {
      host: this.options.host,
      version: this.options.version,
      open: this.#session ? this.#describe(this.#session) : null,
      reopened: this.#reopened,
      recent: recent.map((entry) => ({ ...entry, missing: !existsSync(entry.path) })),
      roots: this.options.access.roots(),
      theme,
      language,
    }
  }

  create(requested: string, project: EntityBody<'project'>, person: EntityBody<'person'>): Promise<Opened> {
    return this.#inTurn(() => this.#create(requested, project, person))
  }

  async #create(requested: string, project: EntityBody<'project'>, person: EntityBody<'person'>): Promise<Opened> {
    checkWritten('project', project, 'project')
    checkWritten('person', person, 'person')
    const target = projectPath(this.options.access, requested)
    const file = createProjectFile(target, this.#openOptions())
    const session = this.#newSession(file)
    try {
      const personId = this.options.uuid()
      found(session, { projectId: this.options.uuid(), personId, commandId: this.options.uuid(), project, person })
      void this.settings.leave(file.path, { personId })
    } catch (error) {
      file.close()
      rmSync(target, { force: true })
      throw classify(error, target)
    }
    return this.#take(session)
  }

  open(requested: string, readOnly: boolean): Promise<Opened> {
    return this.#inTurn(() => this.#open(requested, readOnly))
  }

  async #open(requested: string, readOnly: boolean): Promise<Opened> {
    const target = this.#isDemo(requested) ? requested : this.options.access.allow(requested, readOnly ? 'read' : 'write')
    if (this.#session?.file.path === target && (readOnly || !this.#session.file.readOnly)) return this.#describe(this.#session)
    // A file that is open here already is closed first; another one only after this one has proved to open.
    if (this.#session?.file.path === target) await this.#leave()
    return this.#take(this.#newSession(openProjectFile(target, { ...this.#openOptions(), readOnly })), readOnly)
  }

  /** What was open when the program last ended is opened again. Asked once, by a host that people sit at, before it serves. */
  async reopen(): Promise<void> {
    this.#reopened = await reopen(this, this.#log)
  }

  /** Opens the demo project, made in the program's own folder the first time. */
  openDemo(): Promise<Opened> {
    return this.#inTurn(async () => {
      const target = this.#demoPath()
      if (!existsSync(target)) {
        mkdirSync(path.dirname(target), { recursive: true })
        await this.buildDemo(target)
      }
      return this.#open(target, false)
    })
  }

  /** Builds the demo under another name first, so that an interrupted build is never taken for the demo. */
  async buildDemo(target: string): Promise<void> {
    const { demo, uuid } = this.options
    if (!demo) throw problem('not_found', message('error.no_demo', {}))
    refuseUnusableTarget(target)
    const building = path.join(path.dirname(target), `.${uuid()}${PROJECT_EXTENSION}`)
    try {
      await demo(building)
      nameFinished(building, target)
    } finally {
      rmSync(building, { force: true })
    }
  }

  saveCopy(requested: string): Promise<{ path: string; bytes: number }> {
    return saveCopy(this.session.file, projectPath(this.options.access, requested), this.options.uuid())
  }

  exportExchange(requested: string): { path: string; bytes: number } {
    const written = writeExchange(this.session.stores, exchangePath(this.options.access, requested), { uniqueName: this.options.uuid() })
    if (!written) throw new Error('an export without a limit came to no end')
    return written
  }

  /** Makes a new project file of an exchange file and opens it. A file that does not fit leaves nothing behind. */
  importExchange(source: string, requested: string): Promise<Opened> {
    return this.#inTurn(() => this.#importExchange(source, requested))
  }

  async #importExchange(source: string, requested: string): Promise<Opened> {
    const { access, uuid } = this.options
    const target = projectPath(access, requested)
    const read = readExchange(sourcePath(access, source, 'exchangePath'))
    refuseUnusableTarget(target)
    const building = path.join(path.dirname(target), `.${path.basename(target)}.${uuid()}${PROJECT_EXTENSION}`)
    const file = createProjectFile(building, this.#openOptions())
    try {
      importExchange(this.#newSession(file), read, source)
      file.close()
      nameFinished(building, target)
    } finally {
      file.close()
      rmSync(building, { force: true })
    }
    await this.#open(target, false)
    this.session.imported = withoutBasis(read.exchange)
    return this.#describe(this.session)
  }

  async remember(input: {
    theme?: Theme | undefined
    language?: string | undefined
    view?: string | undefined
    personId?: string | undefined
    reopenedTold?: true | undefined
  }): Promise<void> {
    if (input.reopenedTold) this.#reopened = null
    const { theme, language } = input
    if (theme !== undefined || language !== undefined) {
      const known = LANGUAGES.find((candidate) => candidate === language)
      await this.settings.change((settings) => ({ ...settings, theme: theme ?? settings.theme, language: known ?? settings.language }))
    }
    if ((input.view !== undefined || input.personId !== undefined) && this.#session)
      await this.settings.leave(this.#session.file.path, input)
  }

  /** Closes the project because a person is done with it: the next start does not open it again. */
  close(): Promise<void> {
    return this.#inTurn(() => this.#close())
  }

  async #close(): Promise<void> {
    if (!this.#session) return
    const takenAway = await this.#leave()
    await this.settings.setOpenNow(null)
    this.#publish({ what: 'file' })
    if (takenAway) throw problem('not_found', takenAway)
  }

  /** Closes the file because the program ends. */
  async end(): Promise<void> {
    await this.#inTurn(() => this.#leave())
  }

  /** Two pages may ask at once for what takes a while: each finds what the other left. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#turn.then(work)
    this.#turn = turn.catch(() => undefined)
    return turn
  }

  /** Closes what is open, after a backup in flight has ended. Answers what to say where its file was taken away meanwhile. */
  async #leave(): Promise<TakenAway | null> {
    const session = this.#session
    const safekeeping = this.#safekeeping
    this.#session = null
    this.#safekeeping = null
    await this.#stopWork()
    await safekeeping?.stop()
    const takenAway = session ? await this.#keepTakenAway(session) : null
    session?.close()
    return takenAway
  }

  /** With its last connection a file that was deleted is gone, and one that was moved has its last changes in the log that stayed behind. */
  async #keepTakenAway({ file }: Session): Promise<TakenAway | null> {
    if (file.inPlace()) return null
    const name = path.basename(file.path)
    const kept = await rescue(file, this.options.uuid())
    return message('file.was_taken_away', { name, copy: kept && path.basename(kept.path) })
  }

  /** Makes a session the open one; the one before is closed. */
  async #take(session: Session, readOnly = false): Promise<Opened> {
    const opened = this.#describeNew(session)
    try {
      session.before = await this.#leave()
    } catch (error) {
      session.file.close()
      throw error
    }
    this.#session = session
    this.#safekeeping = this.#safekeep(session)
    this.#reopened = null
    // Remembered before anyone sees it: from then on the next start finds it again. A script leaves nothing to be found.
    const openNow = this.options.host === 'headless' ? null : { path: session.file.path, readOnly }
    await this.settings.opened(session.file.path, opened.name, new Date(this.options.clock()).toISOString(), openNow)
    this.#publish({ what: 'file' })
    return opened
  }

  /** Work at a screen is looked after by itself; scripts keep their own copies. */
  #safekeep(session: Session): Safekeeping | null {
    if (this.options.host === 'headless') return null
    const { clock, uuid, workerFile } = this.options
    return safekeep(session, { clock, uuid, workerFile })
  }

  #openOptions(): Parameters<typeof openProjectFile>[1] {
    const { clock, uuid, version } = this.options
    return { clock, uuid, version, who: os.userInfo().username, where: os.hostname() }
  }

  #newSession(file: ProjectFile): Session {
    const { clock, uuid, host } = this.options
    try {
      // What a script is told is worked out from the readings.
      return new Session(file, { clock, uuid, publish: this.#publish, log: this.#log, believesKept: host !== 'headless' })
    } catch (error) {
      file.close()
      throw classify(error, file.path)
    }
  }

  #describeNew(session: Session): Opened {
    try {
      return this.#describe(session)
    } catch (error) {
      session.file.close()
      throw error
    }
  }

  #describe(session: Session): Opened {
    const { file } = session
    const left = this.settings.current.left[file.path]
    const [project] = session.stores.entities.list('project')
    if (!project) throw problem('damaged_file', message('error.empty_project', { name: path.basename(file.path) }))
    return {
      path: file.path,
      name: project.entity.body.name,
      projectId: project.entity.id,
      readOnly: file.readOnly,
      readOnlyBecause: file.readOnlyBecause,
      notices: [session.before, session.imported, session.damage, this.#takenAwayNow(file), session.backupFailed, ...file.notices].filter(
        (notice) => notice !== null,
      ),
      lastView: left?.view ?? null,
      lastPersonId: left?.personId ?? null,
    }
  }

  #takenAwayNow(file: ProjectFile): Sentence | null {
    return file.inPlace() ? null : message('file.taken_away', { name: path.basename(file.path) })
  }

  #demoPath(): string {
    return path.join(this.options.settingsFolder, 'demo', `Demo${PROJECT_EXTENSION}`)
  }

  #isDemo(requested: string): boolean {
    return existsSync(requested) && existsSync(this.#demoPath()) && path.resolve(requested) === path.resolve(this.#demoPath())
  }
}

/** The first command of a project: its settings and the person who made it. */
export function found(
  session: Session,
  founding: {
    projectId: string
    personId: string
    commandId: string
    project: EntityBody<'project'>
    person: EntityBody<'person'>
  },
): void {
  const { personId, commandId } = founding
  commit(
    session,
    { command: { id: commandId, personId, reason: '' }, name: 'project.create', scope: 'project', founding: true },
    (transaction) => {
      transaction.create('project', founding.projectId, null, founding.project)
      transaction.create('person', personId, null, founding.person)
    },
    () => undefined,
  )
}
