import { BrowserWindow, type MessagePortMain, screen } from 'electron'
import type { MenuCommand } from '#core/api/desktop-bridge.ts'
import { PAGE_ORIGIN } from './page-scheme.ts'
import { readWindowState, writeWindowState } from './window-state.ts'

export type MainWindow = {
  readonly browserWindow: BrowserWindow
  readonly show: () => void
  readonly sendPort: (port: MessagePortMain) => void
  readonly command: (command: MenuCommand) => void
  readonly requestOpen: (file: string) => void
}

/** The one window: isolated, sandboxed, without Node, where it stood last time. */
export function openMainWindow(preload: string, settingsFolder: string): MainWindow {
  const state = readWindowState(
    settingsFolder,
    screen.getAllDisplays().map((display) => display.workArea),
  )
  const { maximized, ...bounds } = state
  const browserWindow = new BrowserWindow({
    ...bounds,
    minWidth: 640,
    minHeight: 480,
    show: false,
    backgroundColor: '#f4f5f3',
    webPreferences: {
      preload,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      webSecurity: true,
      webviewTag: false,
      spellcheck: false,
    },
  })
  if (maximized) browserWindow.maximize()
  browserWindow.once('ready-to-show', () => browserWindow.show())
  browserWindow.on('close', () => {
    const { x, y, width, height } = browserWindow.getNormalBounds()
    writeWindowState(settingsFolder, { x, y, width, height, maximized: browserWindow.isMaximized() })
  })
  void browserWindow.loadURL(`${PAGE_ORIGIN}/index.html`)

  // A file may be asked for before the page has connected; it is told once it listens.
  const waiting: string[] = []
  let connected = false
  return {
    browserWindow,
    show: () => {
      if (browserWindow.isMinimized()) browserWindow.restore()
      browserWindow.focus()
    },
    sendPort: (port) => {
      browserWindow.webContents.postMessage('facegrid:port', null, [port])
      connected = true
      for (const file of waiting.splice(0)) browserWindow.webContents.send('facegrid:open', file)
    },
    command: (command) => browserWindow.webContents.send('facegrid:menu', command),
    requestOpen: (file) => {
      if (connected) browserWindow.webContents.send('facegrid:open', file)
      else waiting.push(file)
    },
  }
}
