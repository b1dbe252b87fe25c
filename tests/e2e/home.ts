import { expect, type Page } from '@playwright/test'
import { words } from './english.ts'

type StartCode = 'projects.new' | 'projects.open' | 'projects.demo' | 'projects.import'

/** One of the large buttons of the first screen; its name goes on with an explanation. */
export function startButton(page: Page, code: StartCode) {
  return page.getByRole('button', { name: new RegExp(`^${words(code, {})}`) })
}

/** Opens a project of the permitted folder through the file chooser, by double click. */
export async function openFromChooser(page: Page, fileName: string): Promise<void> {
  await startButton(page, 'projects.open').click()
  const chooser = page.getByRole('dialog', { name: words('projects.chooser.open_project', {}) })
  // A folder of backups begins with the same name; after a file's name comes its size.
  await chooser.getByRole('button', { name: new RegExp(`^${fileName}\\s`) }).dblclick()
  await expect(chooser).toBeHidden()
}

/** Goes to one of the screens in the list at the left. */
export async function goTo(page: Page, screen: string): Promise<void> {
  await page.getByRole('navigation').getByRole('link', { name: screen, exact: true }).click()
}
