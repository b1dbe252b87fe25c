import { expect, type Locator, type Page } from '@playwright/test'

type Within = Page | Locator

const pageOf = (within: Within): Page => ('page' in within ? within.page() : within)

/** Picks one entry of a list box by its label. */
export async function choose(within: Within, label: string, entry: string | RegExp): Promise<void> {
  await within.getByRole('combobox', { name: label }).click()
  await pageOf(within).getByRole('option', { name: entry }).click()
}

/** Types into a field in place of what stands there. */
export async function fill(within: Within, label: string, text: string): Promise<void> {
  await within.getByRole('textbox', { name: label, exact: true }).fill(text)
}

/** Types into a field that saves when it is left, and waits until the value stands. */
export async function enter(within: Within, label: string, text: string): Promise<void> {
  const field = within.getByRole('textbox', { name: label, exact: true })
  await field.fill(text)
  await field.press('Enter')
  // The unit stands behind a number once it is understood.
  await expect(field).toHaveValue(new RegExp(`^${text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}(\\s.*)?$`))
}

/** The button with exactly this name. */
export function button(within: Within, name: string): Locator {
  return within.getByRole('button', { name, exact: true })
}
