import { expect, type Page } from '@playwright/test'
import { words } from './english.ts'
import { systemDialogsOf } from './system-dialogs.ts'

type StartCode = 'projects.new' | 'projects.open' | 'projects.demo' | 'projects.import'

/** One of the large buttons of the first screen; its name goes on with an explanation. */
export function startButton(page: Page, code: StartCode) {
  return page.getByRole('button', { name: new RegExp(`^${words(code, {})}`) })
}

/** Chooses a file of the spec's folder where `ask` makes the program ask for one: in the system's dialog or the page's chooser. */
export async function chooseFile(
  page: Page,
  purpose: 'open_project' | 'open_exchange' | 'open_delimited',
  fileName: string,
  ask: () => Promise<void>,
): Promise<void> {
  const system = systemDialogsOf(page)
  await system?.answerOpen(fileName)
  await ask()
  if (system) return
  const chooser = page.getByRole('dialog', { name: words(`projects.chooser.${purpose}`, {}) })
  // After a file's name comes its size.
  await chooser.getByRole('button', { name: new RegExp(`^${fileName.replaceAll('.', '\\.')}\\s`) }).dblclick()
  await expect(chooser).toBeHidden()
}

/** Gives a name, or takes the one proposed, where `ask` makes the program ask for a place; by keyboard alone. */
export async function saveAs(
  page: Page,
  purpose: 'save_project' | 'save_exchange',
  name: string | null,
  ask: () => Promise<void>,
): Promise<void> {
  const system = systemDialogsOf(page)
  await system?.answerSave(name)
  await ask()
  if (system) return
  const chooser = page.getByRole('dialog', { name: words(`projects.chooser.${purpose}`, {}) })
  const field = chooser.getByRole('textbox', { name: words('projects.chooser.file_name', {}) })
  if (name !== null) await field.fill(name)
  await field.press('Enter')
  await expect(chooser).toBeHidden()
}

/** Opens a project of the spec's folder from the first screen. */
export async function openFromChooser(page: Page, fileName: string): Promise<void> {
  await chooseFile(page, 'open_project', fileName, () => startButton(page, 'projects.open').click())
}

/** Goes to one of the screens in the list at the left. */
export async function goTo(page: Page, screen: string): Promise<void> {
  await page.getByRole('navigation').getByRole('link', { name: screen, exact: true }).click()
}
