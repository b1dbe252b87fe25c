import { app, dialog, type IpcMainInvokeEvent, ipcMain } from 'electron'
import { z } from 'zod'
import { ENGLISH_DIALOGS } from './dialog-words.ts'
import type { EngineProcess } from './engine-process-handle.ts'
import { PAGE_ORIGIN } from './page-scheme.ts'
import type { MainWindow } from './window.ts'

const SaveRequest = z.strictObject({ suggestedName: z.string().min(1).max(200), kind: z.enum(['project', 'exchange']) })

const FILTERS = {
  project: [{ name: ENGLISH_DIALOGS.projectFiles, extensions: ['facegrid'] }],
  exchange: [{ name: ENGLISH_DIALOGS.exchangeFiles, extensions: ['json'] }],
  readings: [
    { name: ENGLISH_DIALOGS.readingsFiles, extensions: ['csv', 'txt', 'tsv', 'dat', 'log'] },
    { name: ENGLISH_DIALOGS.allFiles, extensions: ['*'] },
  ],
}

/** The few things a page may ask of the desktop. A message from anything but our own top frame is dropped. */
export function handlePageRequests(window: MainWindow, engine: EngineProcess): void {
  const handle = <T>(channel: string, answer: (argument: unknown) => Promise<T> | T) =>
    ipcMain.handle(channel, (event, argument: unknown) => {
      if (!isOwnPage(event, window)) throw new Error('Refused: this sender is not the page of this window.')
      return answer(argument)
    })

  handle('facegrid:connect', () => {
    window.sendPort(engine.connect())
  })
  handle('facegrid:pick-project', () => pickToOpen('project'))
  handle('facegrid:pick-exchange', () => pickToOpen('exchange'))
  handle('facegrid:pick-readings', () => pickToOpen('readings'))
  handle('facegrid:pick-place', async (argument) => {
    const { suggestedName, kind } = SaveRequest.parse(argument)
    const answer = await dialog.showSaveDialog(window.browserWindow, { defaultPath: suggestedName, filters: FILTERS[kind] })
    return granted(answer.canceled ? null : withExtension(answer.filePath, kind))
  })

  async function pickToOpen(kind: keyof typeof FILTERS): Promise<string | null> {
    const answer = await dialog.showOpenDialog(window.browserWindow, {
      properties: ['openFile'],
      filters: FILTERS[kind],
      defaultPath: app.getPath('documents'),
    })
    return granted(answer.canceled ? null : (answer.filePaths[0] ?? null))
  }

  function granted(file: string | null): string | null {
    if (file) engine.grant(file)
    return file
  }
}

/** Not every system's dialog appends the extension; the granted path has to be the one that is written. */
function withExtension(file: string, kind: 'project' | 'exchange'): string {
  const extension = kind === 'project' ? '.facegrid' : '.json'
  return file.toLowerCase().endsWith(extension) ? file : `${file}${extension}`
}

function isOwnPage(event: IpcMainInvokeEvent, window: MainWindow): boolean {
  const frame = event.senderFrame
  if (!frame || event.sender !== window.browserWindow.webContents || frame.parent !== null) return false
  try {
    const url = new URL(frame.url)
    return `${url.protocol}//${url.host}` === PAGE_ORIGIN
  } catch {
    return false
  }
}
