import { expect, type Page } from '@playwright/test'
import { type DemoScreen, link, over, settled, visit } from './demo-screens.ts'
import { LOGGER } from './logger-file.ts'
import { systemDialogsOf } from './system-dialogs.ts'

const OPENS_DIALOG = 'button[aria-haspopup="dialog"]'

const main = (page: Page) => page.getByRole('main')

async function dialogSettled(page: Page): Promise<void> {
  await expect(page.getByRole('dialog')).toBeVisible()
  await expect(page.locator('[class*="busy"]')).toHaveCount(0)
}

/** A dialog that a button of a screen opens. */
const dialogOver = (name: string, first: DemoScreen, opener: string): DemoScreen => ({
  name,
  open: async (page) => {
    await first.open(page)
    await main(page).locator(opener).first().click()
    await dialogSettled(page)
  },
})

const ROOM_MAP = over('room map', '/site', /^#\/room\/[0-9a-f-]+$/)
const CERTIFICATION = over('certification', '/site', /^#\/certification\//)
const CRITERIA_SET = over('criteria set', '/criteria', /^#\/criteria\/./)

/** The instrument that was found out of tolerance: its page foresees what that does to its runs. */
const DOUBTED: DemoScreen = {
  name: 'recalculation',
  open: async (page) => {
    await visit(page, '/instruments')
    await main(page).getByRole('link', { name: 'Thermal anemometer A4' }).click()
    await expect(main(page).locator('a[href*="/run/"]').first()).toBeVisible()
    await settled(page)
  },
}

/** What people ask of figures, criteria, instruments and files. None of it writes anything. */
export const DEMO_INQUIRIES: readonly DemoScreen[] = [
  {
    ...dialogOver('uncertainty budget', ROOM_MAP, OPENS_DIALOG),
    open: async (page) => {
      await dialogOver('', ROOM_MAP, OPENS_DIALOG).open(page)
      await page.getByRole('dialog').locator('button[aria-expanded]').first().click()
    },
  },
  dialogOver('what if', CERTIFICATION, `${OPENS_DIALOG}:has(svg)`),
  {
    name: 'what a revision would change',
    open: async (page) => {
      await CRITERIA_SET.open(page)
      await main(page).locator('button[class*="ask"]').click()
      await expect(main(page).locator('dl')).toBeVisible()
      await settled(page)
    },
  },
  DOUBTED,
  dialogOver('certificate', DOUBTED, 'tbody button'),
  {
    name: 'import, every row seen',
    open: async (page) => {
      await CERTIFICATION.open(page)
      await visit(page, await link(page, /^#\/import\?certification=/))
      await systemDialogsOf(page)?.answerOpen(LOGGER.fileName)
      await main(page).locator('[class*="fileLine"] button').click()
      if (!systemDialogsOf(page)) await page.getByRole('dialog').getByRole('button').filter({ hasText: LOGGER.fileName }).dblclick()
      await expect(main(page).getByRole('status')).toBeVisible()
      await settled(page)
    },
  },
]
