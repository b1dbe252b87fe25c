import { createRequire } from 'node:module'
import path from 'node:path'
import type { MessagePort } from 'node:worker_threads'
import { createORPCClient, ORPCError } from '@orpc/client'
import { RPCLink } from '@orpc/client/message-port'
import type { ContractRouterClient } from '@orpc/contract'
import type { Contract } from '#core/api/contract.ts'
import type { DesktopBridge } from '#core/api/desktop-bridge.ts'
import { app, contextBridge, invokeFrom, record } from './stand-in/electron.ts'

/** Drives the built desktop host against the stand-in and prints what it saw as JSON. Arguments: top folder, working folder. */
const [top, work] = process.argv.slice(2)
if (!top || !work) throw new Error('drive.ts needs the top folder and a working folder')
record.userData = path.join(work, 'settings')

await import(path.join(top, 'dist/electron/main.js'))
while (record.windows.length === 0 || record.menu === null) await new Promise((resolve) => setTimeout(resolve, 10))
const window = record.windows[0]
if (!window) throw new Error('no window')

// What the page's world looks like to the preload: a window that can be posted to.
const portArrived = new Promise<MessagePort>((resolve) => {
  Object.defineProperty(globalThis, 'window', {
    value: {
      location: { origin: 'facegrid://page' },
      postMessage: (message: { facegrid?: string }, origin: string, ports: MessagePort[]) => {
        const [port] = ports
        if (message.facegrid === 'port' && origin === 'facegrid://page' && port) resolve(port)
      },
    },
  })
})
createRequire(import.meta.url)(path.join(top, 'dist/electron/preload.cjs'))
// The preload is typed to put exactly this there (satisfies DesktopBridge).
const bridge = contextBridge.exposed.get('facegridDesktop') as DesktopBridge

await bridge.connect()
const port = await portArrived
const client: ContractRouterClient<Contract> = createORPCClient(new RPCLink({ port }))
port.start()

const before = await client.files.state()
const refusedPath = await client.files.open({ path: path.join(work, 'never-picked.facegrid') }).then(
  () => 'opened',
  (error: unknown) => (error instanceof ORPCError ? String(error.code) : String(error)),
)
const demo = path.join(work, 'demo.facegrid')
record.dialogAnswers.push(demo)
const picked = await bridge.pickPlaceToSave({ suggestedName: 'demo.facegrid', kind: 'project' })
await client.files.openDemo()
const copied = await client.files.saveCopy({ path: demo })
const opened = await client.files.open({ path: demo })
const rooms = await client.entities.list({ kinds: ['room'], within: null })

const refusal = (url: string) =>
  invokeFrom(url, 'facegrid:connect').then(
    () => 'answered',
    (error: Error) => error.message,
  )
const badArgument = await invokeFrom('facegrid://page/index.html', 'facegrid:pick-place', { suggestedName: 7 }).then(
  () => 'answered',
  (error: Error) => error.name,
)
const prevented = (event: string) => {
  let stopped = false
  window.webContents.emit(event, { preventDefault: () => (stopped = true) }, 'https://elsewhere.example/')
  return stopped
}
const served = async (url: string) => {
  const response = await record.pageHandler?.(new Request(url))
  return { status: response?.status, csp: response?.headers.get('content-security-policy') ?? null }
}
const asked: string[] = []
bridge.onOpenRequest((file) => asked.push(file))
app.emit('second-instance', {}, ['facegrid', path.join(work, 'other.facegrid')])
const commands: string[] = []
bridge.onMenuCommand((command) => commands.push(command))
for (const entry of record.menu?.flatMap((menu) => (Array.isArray(menu.submenu) ? menu.submenu : [])) ?? []) {
  // Our own menu items take no arguments.
  if (entry.click) (entry.click as () => void)()
}
let permission: boolean | null = null
record.permissionRequests?.(window.webContents as never, 'media', (granted) => (permission = granted), {} as never)

const quit = new Promise<void>((resolve) => app.once('will-quit', () => resolve()))
window.emit('close')
app.emit('window-all-closed')
await quit

process.stdout.write(
  `${JSON.stringify({
    host: before.host,
    refusedPath,
    picked,
    copiedBytes: copied.bytes,
    openedName: opened.name,
    rooms: rooms.length,
    url: window.url,
    webPreferences: { ...window.options.webPreferences, preload: undefined },
    foreign: await refusal('https://elsewhere.example/'),
    lookalike: await refusal('facegrid://page.elsewhere.example/index.html'),
    badArgument,
    navigation: { navigate: prevented('will-navigate'), redirect: prevented('will-redirect'), webview: prevented('will-attach-webview') },
    windowOpen: window.webContents.windowOpenHandler?.({} as never)?.action,
    permission,
    permissionCheck: record.permissionChecks?.(null, 'media', '', {} as never),
    schemes: record.schemes,
    index: await served('facegrid://page/index.html'),
    outside: await served('facegrid://page/../electron/main.js'),
    otherHost: await served('facegrid://elsewhere/index.html'),
    asked: asked.map((file) => path.basename(file)),
    commands,
    atRest: (await import('node:fs')).readdirSync(work).filter((name) => name.startsWith('demo')),
    windowState: (await import('node:fs')).readFileSync(path.join(record.userData, 'window.json'), 'utf8'),
  })}\n`,
)
process.exit(0)
