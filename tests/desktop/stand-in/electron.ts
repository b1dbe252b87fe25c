import { EventEmitter } from 'node:events'
import { fileURLToPath } from 'node:url'
import { MessageChannel, type MessagePort, Worker } from 'node:worker_threads'
import type * as Electron from 'electron'

/**
 * A stand-in for the `electron` module: the members that the desktop host uses, typed by electron's own types, over real worker threads
 * and real message ports. It records what the host asked for, so that a test can look at it.
 */
export const record = {
  userData: '',
  quits: 0,
  menu: null as Electron.MenuItemConstructorOptions[] | null,
  schemes: [] as Electron.CustomScheme[],
  pageHandler: null as ((request: Request) => Response | Promise<Response>) | null,
  permissionRequests: null as Parameters<Electron.Session['setPermissionRequestHandler']>[0],
  permissionChecks: null as Parameters<Electron.Session['setPermissionCheckHandler']>[0],
  windows: [] as StandInWindow[],
  dialogAnswers: [] as (string | null)[],
  handlers: new Map<string, (event: Electron.IpcMainInvokeEvent, ...parameters: unknown[]) => unknown>(),
}

class StandInApp extends EventEmitter {
  requestSingleInstanceLock = () => true
  whenReady = () => Promise.resolve()
  getPath = (_name: string) => record.userData
  quit = () => {
    record.quits += 1
    let prevented = false
    this.emit('before-quit', { preventDefault: () => (prevented = true) })
    if (!prevented) this.emit('will-quit')
  }
}
const standInApp = new StandInApp()
export const app = standInApp as unknown as Pick<Electron.App, 'requestSingleInstanceLock' | 'whenReady' | 'getPath' | 'quit' | 'on'> &
  EventEmitter

class StandInContents extends EventEmitter {
  windowOpenHandler: Parameters<Electron.WebContents['setWindowOpenHandler']>[0] | null = null
  readonly toPage = new EventEmitter()
  setWindowOpenHandler = (handler: Parameters<Electron.WebContents['setWindowOpenHandler']>[0]) => {
    this.windowOpenHandler = handler
  }
  postMessage = (channel: string, message: unknown, ports: MessagePort[] = []) => this.toPage.emit(channel, { ports }, message)
  send = (channel: string, ...values: unknown[]) => this.toPage.emit(channel, { ports: [] }, ...values)
}

export class StandInWindow extends EventEmitter {
  readonly webContents = new StandInContents()
  readonly options: Electron.BrowserWindowConstructorOptions
  url = ''
  constructor(options: Electron.BrowserWindowConstructorOptions) {
    super()
    this.options = options
    record.windows.push(this)
    standInApp.emit('web-contents-created', {}, this.webContents)
  }
  loadURL = (url: string) => {
    this.url = url
    return Promise.resolve()
  }
  show = () => {}
  focus = () => {}
  restore = () => {}
  maximize = () => {}
  isMinimized = () => false
  isMaximized = () => false
  getNormalBounds = (): Electron.Rectangle => ({ x: 40, y: 30, width: 1200, height: 800 })
}
export const BrowserWindow = StandInWindow

export const screen = {
  getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }],
}
export const Menu = {
  buildFromTemplate: (template: Electron.MenuItemConstructorOptions[]) => template,
  setApplicationMenu: (template: Electron.MenuItemConstructorOptions[]) => {
    record.menu = template
  },
}
export const session = {
  defaultSession: {
    setPermissionRequestHandler: (handler: Parameters<Electron.Session['setPermissionRequestHandler']>[0]) => {
      record.permissionRequests = handler
    },
    setPermissionCheckHandler: (handler: Parameters<Electron.Session['setPermissionCheckHandler']>[0]) => {
      record.permissionChecks = handler
    },
  } satisfies Pick<Electron.Session, 'setPermissionRequestHandler' | 'setPermissionCheckHandler'>,
}
export const protocol = {
  registerSchemesAsPrivileged: (schemes: Electron.CustomScheme[]) => {
    record.schemes = schemes
  },
  handle: (_scheme: string, handler: (request: Request) => Response | Promise<Response>) => {
    record.pageHandler = handler
  },
} satisfies Pick<Electron.Protocol, 'registerSchemesAsPrivileged' | 'handle'>

const answer = (): { canceled: boolean; filePath: string; filePaths: string[] } => {
  const file = record.dialogAnswers.shift() ?? null
  return { canceled: file === null, filePath: file ?? '', filePaths: file === null ? [] : [file] }
}
export const dialog = {
  showOpenDialog: () => Promise.resolve(answer()),
  showSaveDialog: () => Promise.resolve(answer()),
}
export const ipcMain = {
  handle: (channel: string, handler: (event: Electron.IpcMainInvokeEvent, ...parameters: unknown[]) => unknown) => {
    record.handlers.set(channel, handler)
  },
} satisfies Pick<Electron.IpcMain, 'handle'>

export class MessageChannelMain {
  readonly port1: MessagePort
  readonly port2: MessagePort
  constructor() {
    const { port1, port2 } = new MessageChannel()
    this.port1 = port1
    this.port2 = port2
  }
}

class StandInUtilityProcess extends EventEmitter {
  readonly #worker: Worker
  constructor(file: string, parameters: string[]) {
    super()
    this.#worker = new Worker(fileURLToPath(new URL('utility-process.ts', import.meta.url)), { argv: parameters, workerData: { file } })
    this.#worker.once('exit', (code) => this.emit('exit', code))
    this.#worker.once('error', (error) => {
      process.stderr.write(`${error.stack ?? String(error)}\n`)
    })
  }
  postMessage = (message: unknown, ports: MessagePort[] = []) => this.#worker.postMessage({ data: message, ports }, ports)
}
export const utilityProcess = {
  fork: (file: string, parameters: string[]) => new StandInUtilityProcess(file, parameters),
}

/** The page's side: what a preload sees of `electron`. */
export const contextBridge = {
  exposed: new Map<string, unknown>(),
  exposeInMainWorld(name: string, value: unknown) {
    this.exposed.set(name, value)
  },
}
export const ipcRenderer = {
  invoke: (channel: string, ...parameters: unknown[]) => invokeFrom('facegrid://page/index.html', channel, ...parameters),
  on: (channel: string, listener: (...values: unknown[]) => void) => {
    record.windows[0]?.webContents.toPage.on(channel, listener)
    return ipcRenderer
  },
  removeListener: (channel: string, listener: (...values: unknown[]) => void) => {
    record.windows[0]?.webContents.toPage.removeListener(channel, listener)
    return ipcRenderer
  },
}

/** Calls a handler of the main process as a frame of the given address would, in our window or in a foreign one. */
export async function invokeFrom(url: string, channel: string, ...parameters: unknown[]): Promise<unknown> {
  const handler = record.handlers.get(channel)
  if (!handler) throw new Error(`No handler for ${channel}`)
  const event = { sender: record.windows[0]?.webContents, senderFrame: { url, parent: null } }
  // Structured clone is what the real channel does with the arguments.
  return handler(event as unknown as Electron.IpcMainInvokeEvent, ...structuredClone(parameters))
}
