import { existsSync, mkdirSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { openAppWindow } from './app-window.ts'
import type { Engine } from './engine.ts'
import { createHostEngine, facegridVersion } from './engine-start.ts'
import { FolderAccess } from './folder-access.ts'
import { type LoopbackServer, startLoopbackServer } from './loopback-server.ts'
import { assertNodeVersion } from './node-version.ts'
import { readPageFiles } from './page-files.ts'
import { settingsFolder } from './settings-folder.ts'

const HELP = `Facegrid in a browser window, on this computer only.

  --folder DIR   a folder whose project files may be opened and saved (repeat for more; default: Facegrid in your home folder)
  --port N       the port on 127.0.0.1 (default: 47613, else a free one; 0: a free one)
  --no-open      print the address and open nothing
  --settings DIR where recent files and the like are remembered
`

async function main(): Promise<void> {
  assertNodeVersion()
  const { values } = parseArgs({
    options: {
      folder: { type: 'string', multiple: true },
      port: { type: 'string' },
      'no-open': { type: 'boolean', default: false },
      settings: { type: 'string' },
      help: { type: 'boolean', default: false },
    },
  })
  if (values.help) {
    process.stdout.write(HELP)
    return
  }
  const folders = values.folder?.map((folder) => path.resolve(folder)) ?? [defaultFolder()]
  const access = new FolderAccess(folders)
  const engine = createHostEngine({ host: 'browser', access, settingsFolder: values.settings ?? settingsFolder() })
  await engine.reopen()
  const server = await start(engine, values.port)

  process.stdout.write(
    `Facegrid ${facegridVersion()} is running on this computer only.\nAddress: ${server.address}\nFolders: ${folders.join(', ')}\n`,
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

async function start(engine: Engine, port: string | undefined): Promise<LoopbackServer> {
  const page = readPageFiles(pageFolder())
  if (port !== undefined) return startLoopbackServer(engine, page, Number(port))
  try {
    return await startLoopbackServer(engine, page, USUAL_PORT)
  } catch {
    return startLoopbackServer(engine, page, 0)
  }
}

function defaultFolder(): string {
  const folder = path.join(os.homedir(), 'Facegrid')
  mkdirSync(folder, { recursive: true })
  return folder
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
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`)
  process.exit(2)
})
