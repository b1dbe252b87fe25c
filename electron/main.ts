import path from 'node:path'
import { app, Menu, session } from 'electron'
import { EngineProcess } from './desktop/engine-process-handle.ts'
import { menuTemplate } from './desktop/menu.ts'
import { OpenRequests, projectPathIn } from './desktop/open-requests.ts'
import { handlePageRequests } from './desktop/page-requests.ts'
import { registerPageScheme, servePage } from './desktop/page-scheme.ts'
import { openMainWindow } from './desktop/window.ts'

/** The desktop host reads like its table of contents: what is shared with the browser host lives in the engine. */
export async function main(): Promise<void> {
  if (!app.requestSingleInstanceLock()) {
    app.quit()
    return
  }
  registerPageScheme()
  const requests = new OpenRequests(projectPathIn(process.argv))
  app.on('open-file', (event, file) => {
    event.preventDefault()
    requests.ask(file)
  })
  app.on('second-instance', (_event, argv) => requests.ask(projectPathIn(argv)))
  app.on('web-contents-created', (_event, contents) => {
    contents.on('will-navigate', (event) => event.preventDefault())
    contents.on('will-redirect', (event) => event.preventDefault())
    contents.on('will-attach-webview', (event) => event.preventDefault())
    contents.setWindowOpenHandler(() => ({ action: 'deny' }))
  })

  await app.whenReady()
  session.defaultSession.setPermissionRequestHandler((_contents, _permission, answer) => answer(false))
  session.defaultSession.setPermissionCheckHandler(() => false)
  servePage(path.join(import.meta.dirname, '../renderer'))

  const engine = new EngineProcess(path.join(import.meta.dirname, 'engine-process.js'), app.getPath('userData'))
  const window = openMainWindow(path.join(import.meta.dirname, 'preload.cjs'), app.getPath('userData'))
  handlePageRequests(window, engine)
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(process.platform, (command) => window.command(command))))
  requests.deliverTo((file) => {
    window.show()
    if (!file) return
    engine.grant(file)
    window.requestOpen(file)
  })

  app.on('window-all-closed', () => app.quit())
  let engineStopped = false
  app.on('before-quit', (event) => {
    if (engineStopped) return
    // The project file goes back to one file at rest before the program ends.
    event.preventDefault()
    void engine.stop().then(() => {
      engineStopped = true
      app.quit()
    })
  })
}

void main()
