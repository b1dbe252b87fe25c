import type { Page } from '@playwright/test'
import { words } from './english.ts'
import { expectEmptyAtHand, expectSaved, filterInStrip, typeReadings } from './face.ts'
import { button, fill } from './form-parts.ts'
import { goTo } from './home.ts'
import { expect, test } from './loading-room.ts'

test('two windows on one project see each other at once', async ({ bench }) => {
  const { page } = bench
  const other = await bench.secondPage()
  await other.goto(page.url())
  await expectEmptyAtHand(other, 1)
  await typeReadings(page, ['0.46', '0.44'])
  await expectSaved(other, 1, '0.46')
  await expectSaved(other, 2, '0.44')
  await expect(filterInStrip(other, 'F-104/01')).toContainText('2/9')
})

test('a change made on what the other window has changed meanwhile is refused in a sentence', async ({ bench }) => {
  const { page } = bench
  const other = await bench.secondPage()
  await goTo(page, words('app.nav.site', {}))
  await goTo(other, words('app.nav.site', {}))
  await editFacility(page)
  await editFacility(other)
  await fill(other.getByRole('dialog'), words('site.facility.address', {}), 'Level 2')
  await button(other.getByRole('dialog'), words('app.save', {})).click()
  await expect(other.getByRole('dialog')).toBeHidden()

  await fill(page.getByRole('dialog'), words('site.facility.address', {}), 'Level 3')
  await button(page.getByRole('dialog'), words('app.save', {})).click()
  await expect(page.getByRole('alert')).toHaveText(words('error.conflict', { what: 'facility' }))
  // Nothing typed is lost, and the other window's change stands.
  await expect(page.getByRole('dialog').getByRole('textbox', { name: words('site.facility.address', {}) })).toHaveValue('Level 3')
  await button(page.getByRole('dialog'), words('app.cancel', {})).click()
  await editFacility(page)
  await expect(page.getByRole('dialog').getByRole('textbox', { name: words('site.facility.address', {}) })).toHaveValue('Level 2')
})

async function editFacility(page: Page): Promise<void> {
  await button(page, words('site.facility.commands', { name: 'Filling' })).click()
  await page.getByRole('menuitem', { name: words('site.facility.edit', { name: 'Filling' }) }).click()
  await expect(page.getByRole('dialog', { name: words('site.facility.edit', { name: 'Filling' }) })).toBeVisible()
}
