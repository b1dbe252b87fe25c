import { expect, type Page } from '@playwright/test'
import { words } from './english.ts'

/** A point of the face before the technician, by its place on the path. */
export function pointOnFace(page: Page, order: number) {
  return page
    .getByRole('region', { name: /^Face of / })
    .getByRole('button', { name: new RegExp(`^${words('readings.cell.point', {})} ${order}\\b`) })
}

/** Typing goes to this point now, and it has no reading yet. */
export async function expectEmptyAtHand(page: Page, order: number): Promise<void> {
  const point = pointOnFace(page, order)
  await expect(point).toHaveAccessibleName(new RegExp(words('readings.cell.current', {})))
  await expect(point).toHaveAccessibleName(new RegExp(words('readings.cell.empty', {})))
  await expect(point).toBeFocused()
}

/** A point shows this number, as saved. */
export async function expectSaved(page: Page, order: number, value: string): Promise<void> {
  const point = pointOnFace(page, order)
  await expect(point).toContainText(value)
  await expect(point).toHaveAccessibleName(new RegExp(`\\b${words('readings.state.saved', {})}`))
}

/** The filter before the technician. */
export const filterAtHand = (page: Page, tag: string) => page.getByRole('main').getByRole('heading', { level: 1, name: tag })

/** How far everything typed has come, as the bench says it. */
export const savedLine = (page: Page) => page.getByRole('main').getByText(words('readings.queue.saved', {}), { exact: true })

/** A number and Enter for each point, nothing else. */
export async function typeReadings(page: Page, readings: readonly string[]): Promise<void> {
  for (const reading of readings) {
    await page.keyboard.type(reading)
    await page.keyboard.press('Enter')
  }
}

/** A filter in the strip above the face: its progress and verdict. */
export function filterInStrip(page: Page, tag: string) {
  return page.getByRole('navigation', { name: words('readings.strip', {}) }).getByRole('button', { name: new RegExp(`^${tag}\\b`) })
}
