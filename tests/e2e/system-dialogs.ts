import type { ElectronApplication, Page } from '@playwright/test'

/** Answers the system's own dialogs, which a spec can neither see nor click, in place of the person. */
export type SystemDialogs = {
  /** the next question for a file gets this file of the spec's folder */
  readonly answerOpen: (fileName: string) => Promise<void>
  /** the next question for a place gets this name, or the one proposed, in the spec's folder */
  readonly answerSave: (name: string | null) => Promise<void>
}

const DIALOGS = new WeakMap<Page, SystemDialogs>()

/** The dialogs of the desktop host that shows this page; null where the page asks with its own chooser. */
export function systemDialogsOf(page: Page): SystemDialogs | null {
  return DIALOGS.get(page) ?? null
}

/** From here on, the dialogs of this desktop application are answered for its page. */
export function answerDialogs(application: ElectronApplication, page: Page, folder: string): void {
  DIALOGS.set(page, {
    answerOpen: (fileName) =>
      application.evaluate(
        ({ dialog }, where) => {
          const asked = dialog.showOpenDialog
          dialog.showOpenDialog = () => {
            dialog.showOpenDialog = asked
            return Promise.resolve({ canceled: false, filePaths: [`${where.folder}/${where.fileName}`] })
          }
        },
        { folder, fileName },
      ),
    answerSave: (name) =>
      application.evaluate(
        ({ dialog }, where) => {
          const asked = dialog.showSaveDialog
          // With a window before the options or without: the options come last.
          dialog.showSaveDialog = (...question: unknown[]) => {
            dialog.showSaveDialog = asked
            const options = question.at(-1)
            const proposed =
              typeof options === 'object' && options !== null && 'defaultPath' in options ? String(options.defaultPath) : 'unnamed'
            return Promise.resolve({ canceled: false, filePath: `${where.folder}/${where.name ?? proposed}` })
          }
        },
        { folder, name },
      ),
  })
}
