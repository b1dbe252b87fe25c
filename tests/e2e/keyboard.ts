import type { Locator, Page } from '@playwright/test'

const MOST_STOPS = 120

/** Walks with the Tab key until the element has the focus, as a person without a pointer does. */
export async function tabTo(page: Page, target: Locator): Promise<void> {
  await target.waitFor()
  for (let stop = 0; stop < MOST_STOPS; stop += 1) {
    if (await target.evaluate((element) => element === document.activeElement)) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`The Tab key does not reach ${target.toString()}.`)
}

/** Types over what stands in the field that has the focus. */
export async function typeOver(page: Page, text: string): Promise<void> {
  await page.keyboard.press('ControlOrMeta+a')
  await page.keyboard.type(text)
}
