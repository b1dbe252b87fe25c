import { randomUUID } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync } from 'node:fs'
import { open, rename, rm } from 'node:fs/promises'
import path from 'node:path'
import { z } from 'zod'
import { LANGUAGES } from '#core/messages/say.ts'
import { Uuid } from '#core/model/values.ts'

const MOST_RECENT = 20

const Settings = z.object({
  theme: z.enum(['system', 'light', 'dark']).catch('system'),
  language: z.enum(LANGUAGES).catch('en'),
  recent: z.array(z.object({ path: z.string(), name: z.string(), openedAt: z.string() })).catch([]),
  /** open now, or when the program ended; null after a person closed it */
  openNow: z.object({ path: z.string(), readOnly: z.boolean() }).nullable().catch(null),
  left: z.record(z.string(), z.object({ view: z.string().nullable(), personId: Uuid.nullable() })).catch({}),
})
export type Settings = z.infer<typeof Settings>

/** What this computer remembers beside the project files. Losing it loses no work, so a broken file is simply begun anew. */
export class SettingsFile {
  readonly #path: string
  #settings: Settings
  #writing: Promise<void> = Promise.resolve()

  constructor(folder: string) {
    mkdirSync(folder, { recursive: true })
    this.#path = path.join(folder, 'settings.json')
    const read = Settings.safeParse(this.#read())
    this.#settings = read.success ? read.data : Settings.parse({})
  }

  get current(): Settings {
    return this.#settings
  }

  /** Remembers a change; the write is atomic and follows the ones before it. */
  change(edit: (settings: Settings) => Settings): Promise<void> {
    this.#settings = edit(structuredClone(this.#settings))
    this.#writing = this.#writing.then(() => this.#write())
    return this.#writing
  }

  opened(file: string, name: string, openedAt: string, openNow: Settings['openNow']): Promise<void> {
    return this.change((settings) => ({
      ...settings,
      openNow: openNow ?? settings.openNow,
      recent: [{ path: file, name, openedAt }, ...settings.recent.filter((entry) => entry.path !== file)].slice(0, MOST_RECENT),
    }))
  }

  leave(file: string, left: { view?: string | undefined; personId?: string | undefined }): Promise<void> {
    return this.change((settings) => {
      const before = settings.left[file] ?? { view: null, personId: null }
      return {
        ...settings,
        left: { ...settings.left, [file]: { view: left.view ?? before.view, personId: left.personId ?? before.personId } },
      }
    })
  }

  setOpenNow(openNow: Settings['openNow']): Promise<void> {
    return this.change((settings) => ({ ...settings, openNow }))
  }

  forget(file: string): Promise<void> {
    return this.change((settings) => ({ ...settings, recent: settings.recent.filter((entry) => entry.path !== file) }))
  }

  settled(): Promise<void> {
    return this.#writing
  }

  #read(): unknown {
    if (!existsSync(this.#path)) return {}
    try {
      return JSON.parse(readFileSync(this.#path, 'utf8'))
    } catch {
      return {}
    }
  }

  async #write(): Promise<void> {
    const temporary = `${this.#path}.${randomUUID()}.new`
    try {
      const handle = await open(temporary, 'wx')
      try {
        await handle.writeFile(`${JSON.stringify(this.#settings, null, 1)}\n`)
        await handle.sync()
      } finally {
        await handle.close()
      }
      await rename(temporary, this.#path)
    } catch {
      // A full or protected settings folder must not stop the work on a project.
      await rm(temporary, { force: true })
    }
  }
}
