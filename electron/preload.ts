import { contextBridge, type IpcRendererEvent, ipcRenderer } from 'electron'
import { type DesktopBridge, type MenuCommand, PORT_MESSAGE } from '#core/api/desktop-bridge.ts'

// Ports cannot cross the bridge as arguments: they are handed to the page as a window message of its own origin.
ipcRenderer.on('facegrid:port', (event) => {
  window.postMessage({ facegrid: PORT_MESSAGE }, window.location.origin, [...event.ports])
})

function listen<T>(channel: string, listener: (value: T) => void): () => void {
  const heard = (_event: IpcRendererEvent, value: T) => listener(value)
  ipcRenderer.on(channel, heard)
  return () => ipcRenderer.removeListener(channel, heard)
}

contextBridge.exposeInMainWorld('facegridDesktop', {
  platform: process.platform,
  connect: () => ipcRenderer.invoke('facegrid:connect'),
  pickProjectToOpen: () => ipcRenderer.invoke('facegrid:pick-project'),
  pickPlaceToSave: (request) => ipcRenderer.invoke('facegrid:pick-place', request),
  pickExchangeToImport: () => ipcRenderer.invoke('facegrid:pick-exchange'),
  pickReadingsToImport: () => ipcRenderer.invoke('facegrid:pick-readings'),
  onOpenRequest: (listener) => listen<string>('facegrid:open', listener),
  onMenuCommand: (listener) => listen<MenuCommand>('facegrid:menu', listener),
} satisfies DesktopBridge)
