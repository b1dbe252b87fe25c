import type { MenuItemConstructorOptions } from 'electron'
import type { MenuCommand } from '#core/api/desktop-bridge.ts'
import { ENGLISH_DIALOGS as words } from './dialog-words.ts'

/** The native menu: file and edit commands are the page's own, text editing and zoom the system's. */
export function menuTemplate(platform: NodeJS.Platform, run: (command: MenuCommand) => void): MenuItemConstructorOptions[] {
  const item = (label: string, command: MenuCommand, accelerator?: string): MenuItemConstructorOptions => ({
    label,
    ...(accelerator ? { accelerator } : {}),
    click: () => run(command),
  })
  return [
    ...(platform === 'darwin' ? [{ role: 'appMenu' as const }] : []),
    {
      label: words.file,
      submenu: [
        item(words.newProject, 'new', 'CommandOrControl+N'),
        item(words.openProject, 'open', 'CommandOrControl+O'),
        item(words.saveCopy, 'save_copy', 'CommandOrControl+Shift+S'),
        { type: 'separator' },
        item(words.closeProject, 'close', 'CommandOrControl+W'),
        ...(platform === 'darwin' ? [] : [{ role: 'quit' as const }]),
      ],
    },
    {
      label: words.edit,
      submenu: [
        // No accelerators here: the page hears these keys itself, so that they keep their meaning inside a text field.
        item(words.undo, 'undo'),
        item(words.redo, 'redo'),
        { type: 'separator' },
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
        { type: 'separator' },
        item(words.find, 'find'),
      ],
    },
    {
      label: words.view,
      submenu: [{ role: 'resetZoom' }, { role: 'zoomIn' }, { role: 'zoomOut' }, { type: 'separator' }, { role: 'togglefullscreen' }],
    },
    { label: words.help, submenu: [item(words.howTo, 'help', 'F1')] },
  ]
}
