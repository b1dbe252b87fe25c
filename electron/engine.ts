import type { Router } from '@orpc/server'
import type { contract } from '#core/api/contract.ts'
import { ChangeStream } from './services/changes.ts'
import { Workspace } from './services/files.ts'
import { createRouter } from './services/router.ts'
import { SettingsFile } from './services/settings.ts'

/** Which files this engine may touch: the host decides. */
export type FileAccess = {
  roots(): { name: string; path: string }[]
  /** the real path, or a ProblemError */
  allow(path: string, purpose: 'read' | 'write' | 'list'): string
}

export type EngineOptions = {
  readonly host: 'desktop' | 'browser' | 'headless'
  readonly version: string
  readonly clock: () => number
  readonly uuid: () => string
  readonly settingsFolder: string
  readonly access: FileAccess
  /** builds the demo project at a path that does not exist */
  readonly demo?: (path: string) => Promise<void>
  /** the worker entry of a bundled build; without it the source file beside the services is taken */
  readonly workerFile?: URL
  /** where causes of unexpected failures go; the standard error stream by default */
  readonly log?: (error: unknown) => void
}

export type Engine = {
  readonly router: Router<typeof contract, Record<never, never>>
  /** Builds the demo project at a path, for scripts; the page opens it through the contract. */
  buildDemo(path: string): Promise<void>
  /** Opens again what was open when the program last ended; a host that people sit at asks for it before it serves. */
  reopen(): Promise<void>
  close(): Promise<void>
}

/** Opens projects and serves the contract on whatever channel the host gives it. */
export function createEngine(options: EngineOptions): Engine {
  const log = options.log ?? ((error: unknown) => console.error(error))
  const changes = new ChangeStream()
  const settings = new SettingsFile(options.settingsFolder)
  const workspace = new Workspace(options, settings, (event) => changes.publish(event), log)
  const { router, stop } = createRouter(workspace, changes, log)
  return {
    router,
    buildDemo: (path) => workspace.buildDemo(path),
    reopen: () => workspace.reopen(),
    close: async () => {
      await stop()
      await workspace.end()
      await settings.settled()
    },
  }
}
