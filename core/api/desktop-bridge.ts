/**
 * What the desktop host's preload hands the page as `window.facegridDesktop`. Everything else travels over the message port that
 * `connect` asks for; the port arrives in the page as a window message `{ facegrid: 'port' }` with the port transferred.
 */
export type DesktopBridge = {
  readonly platform: string
  readonly connect: () => Promise<void>
  /** native dialogs; null when the user cancelled. The picked path is granted to the engine before the promise resolves. */
  readonly pickProjectToOpen: () => Promise<string | null>
  readonly pickPlaceToSave: (request: { readonly suggestedName: string; readonly kind: 'project' | 'exchange' }) => Promise<string | null>
  readonly pickExchangeToImport: () => Promise<string | null>
  readonly pickReadingsToImport: () => Promise<string | null>
  /** a project file that the system asked to open (file association, second start) */
  readonly onOpenRequest: (listener: (path: string) => void) => () => void
  /** a command of the native menu, by the page's own command name */
  readonly onMenuCommand: (listener: (command: MenuCommand) => void) => () => void
}

export type MenuCommand = 'new' | 'open' | 'save_copy' | 'close' | 'undo' | 'redo' | 'find' | 'help'

export const PORT_MESSAGE = 'port'
