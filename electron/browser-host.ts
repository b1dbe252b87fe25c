import { accessSync, constants, existsSync, mkdirSync, statSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { getSystemErrorMap, parseArgs } from 'node:util'
import { message } from '#core/messages/say.ts'
import { openAppWindow } from './app-window.ts'
import type { Engine } from './engine.ts'
import { createHostEngine, facegridVersion } from './engine-start.ts'
import { FolderAccess } from './folder-access.ts'
import { type LoopbackServer, startLoopbackServer } from './loopback-server.ts'
import { assertNodeVersion } from './node-version.ts'
import { readPageFiles } from './page-files.ts'
import { plainWords } from './plain-words.ts'
import { ProblemError, problem } from './project-file/problem.ts'
import { settingsFolder } from './settings-folder.ts'

const HELP = `Facegrid in a browser window, on this computer only.

  --folder DIR   one more folder whose project files may be opened and saved, beside Facegrid in your home folder (repeat for more)
  --no-home      leave out the folder Facegrid in your home folder
  --port N       the port on 127.0.0.1 (default: 47613, else a free one; 0: a free one)
  --no-open      print the address and open nothing
  --settings DIR where recent files and the like are remembered
`

const OPTIONS = {
  folder: { type: 'string', multiple: true },
  'no-home': { type: 'boolean', default: false },
  port: { type: 'string' },
  'no-open': { type: 'boolean', default: false },
  settings: { type: 'string' },
  help: { type: 'boolean', default: false },
} as const

async function main(): Promise<void> {
  assertNodeVersion()
  const values = given()
  if (values.help) {
    process.stdout.write(HELP)
    return
  }
  const port = values.port === undefined ? null : portOf(values.port)
  const named = (values.folder ?? []).map(existingFolder)
  const home = values['no-home'] ? null : homeFolder(named.length > 0)
  const access = new FolderAccess(home === null ? named : [...named, home])
  const engine = createHostEngine({ host: 'browser', access, settingsFolder: usableSettings(values.settings ?? settingsFolder()) })
  await engine.reopen()
  const server = await start(engine, port).catch(async (error: unknown) => {
    await engine.close()
    throw error
  })

  process.stdout.write(
    `Facegrid ${facegridVersion()} is running on this computer only.\nAddress: ${server.address}\nFolders: ${access
      .roots()
      .map((root) => root.path)
      .join(', ')}\n`,
  )
  if (!values['no-open'] && !(await openAppWindow(server.address))) {
    process.stdout.write('No browser could be opened from here: open the address above in a browser on this computer.\n')
  }
  process.stdout.write('Press Ctrl+C to stop.\n')

  let stopping = false
  const stop = async () => {
    if (stopping) return
    stopping = true
    await server.close()
    await engine.close()
    process.exit(0)
  }
  process.on('SIGINT', stop)
  process.on('SIGTERM', stop)
}

/**
 * The same port each time where it is free: what a browser keeps for this page (readings not yet sent, the place where somebody stood)
 * belongs to the address, and must be found again after a restart.
 */
const USUAL_PORT = 47613

async function start(engine: Engine, port: number | null): Promise<LoopbackServer> {
  const page = readPageFiles(pageFolder())
  const on = (wanted: number) =>
    startLoopbackServer(engine, page, wanted, (next) => {
      process.stdout.write(`That address is used now. For another window or browser: ${next}\n`)
    })
  try {
    return await on(port ?? USUAL_PORT)
  } catch (error) {
    if (port === null) return on(0)
    throw problem('refused', message('host.port_taken', { port, cause: causeOf(error) }), { cause: error })
  }
}

function given() {
  try {
    return parseArgs({ options: OPTIONS }).values
  } catch (error) {
    throw problem('invalid_input', message('host.bad_option', { detail: error instanceof Error ? error.message : '' }), { cause: error })
  }
}

function portOf(text: string): number {
  if (!/^\d{1,5}$/.test(text) || Number(text) > 65535) throw problem('invalid_input', message('host.bad_port', { text }))
  return Number(text)
}

function existingFolder(named: string): string {
  const folder = path.resolve(named)
  const stat = statSync(folder, { throwIfNoEntry: false })
  if (!stat) throw problem('not_found', message('host.no_such_folder', { path: folder }))
  if (!stat.isDirectory()) throw problem('invalid_input', message('host.not_a_folder', { path: folder }))
  return folder
}

/** Null, and told, where it cannot be made and there are other folders to work in. */
function homeFolder(hasOthers: boolean): string | null {
  const folder = path.join(os.homedir(), 'Facegrid')
  try {
    mkdirSync(folder, { recursive: true })
    return folder
  } catch (error) {
    const told = message('host.home_folder', { path: folder, cause: causeOf(error) })
    if (!hasOthers) throw problem('read_only', told, { cause: error })
    process.stderr.write(`${plainWords(told)}\n`)
    return null
  }
}

function usableSettings(folder: string): string {
  try {
    mkdirSync(folder, { recursive: true })
    accessSync(folder, constants.W_OK)
    return folder
  } catch (error) {
    throw problem('read_only', message('host.settings_folder', { path: folder, cause: causeOf(error) }), { cause: error })
  }
}

/** In words what a terminal would show: "permission denied" rather than EACCES. */
function causeOf(error: unknown): string {
  const [, known] =
    error instanceof Error && 'errno' in error && typeof error.errno === 'number' ? (getSystemErrorMap().get(error.errno) ?? []) : []
  return known ?? (error instanceof Error ? error.message : String(error))
}

/** Beside the bundle in a built application, in dist when the host runs from its source. */
function pageFolder(): string {
  const here = path.dirname(fileURLToPath(import.meta.url))
  const folder = [path.join(here, '../renderer'), path.join(here, '../dist/renderer')].find((candidate) =>
    existsSync(path.join(candidate, 'assets')),
  )
  if (folder) return folder
  throw new Error('The page is not built yet. Run: npm run build')
}

main().catch((error: unknown) => {
  const said = error instanceof ProblemError ? plainWords(error.failure.sentence) : error instanceof Error ? error.message : String(error)
  process.stderr.write(`${said}\n`)
  process.exit(2)
})
