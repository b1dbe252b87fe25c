import { writeFileSync } from 'node:fs'
import path from 'node:path'
import type { Locator, Page } from '@playwright/test'
import { expect, test, workAs } from './demo-project.ts'
import { settled, visit } from './demo-screens.ts'
import { words } from './english.ts'
import { button, choose, fill } from './form-parts.ts'
import { chooseFile, goTo, saveAs, startButton } from './home.ts'
import { ONE_BUDGET } from './one-budget.ts'

const main = (page: Page) => page.getByRole('main')

/*
 * Worked by hand from one-budget.ts, by the GUM (JCGM 100:2008), 4.2, 4.3, 5.1, 6.2 and G.4. Readings 0.42, 0.48, 0.44, 0.46 m/s: mean 0.45 m/s.
 *
 *   points        s = sqrt((0.03^2 + 0.03^2 + 0.01^2 + 0.01^2) / 3) = 0.025820; / sqrt 4 = 0.012910   3 degrees of freedom
 *   accuracy      2 % of 0.45 + 0.005 = 0.014; / sqrt 3                                  = 0.008083
 *   certificate   0.010 / 2                                                             = 0.005000
 *   step          0.01 / 2 / sqrt 3                                                     = 0.002887
 *
 * Squares: 166.667, 65.333, 25.000 and 8.333, together 265.333 x 10^-6; u = 0.016289 m/s. Effective degrees of freedom:
 * 265.333^2 / (166.667^2 / 3) = 7.60, down to 7. t for 95 % at 7 is 2.365 (any table), so U = 2.365 x 0.016289 = 0.0385 m/s. Shares of the
 * squares: 62.8, 24.6, 9.4 and 3.1 %. The display speaks of the air as it is, so that no density enters.
 */
test('a figure opens into its budget, and every term of it into where it comes from', async ({ application: { page, folder } }) => {
  writeFileSync(path.join(folder, 'Budget.json'), JSON.stringify(ONE_BUDGET))
  await saveAs(page, 'save_project', 'Budget', () =>
    chooseFile(page, 'open_exchange', 'Budget.json', () => startButton(page, 'projects.import').click()),
  )
  await workAs(page, 'Ines Hollerer')
  await page
    .getByRole('navigation', { name: words('app.region.where', {}) })
    .getByRole('link', { name: /^M-103 / })
    .click()
  await page.getByRole('option', { name: /^M-103\/1,/ }).click()
  const why = page.getByRole('complementary')
  await why.getByRole('button', { name: words('budget.open', { figure: 'mean_velocity', subject: 'M-103/1' }) }).click()

  const budget = page.getByRole('dialog', { name: words('budget.title', { figure: 'mean_velocity', subject: 'M-103/1' }) })
  await expect(budget).toContainText('0.450 ± 0.039 m/s, k = 2.36')
  await expect(budget).toContainText('Combined standard uncertainty 0.016 m/s')
  await expect(budget).toContainText('Two-sided level of 95 %; k from t at 7 effective degrees of freedom')
  for (const [term, contribution, share, degrees, origin] of [
    ['spatial', '0.013', '63 %', '3', 'standard deviation of its 4 points over the square root of their number'],
    [
      'accuracy',
      '0.0081',
      '25 %',
      '∞',
      'Accuracy statement of Vane probe (VP-0001): within 2 % of the reading plus 0.0050 m/s; a rectangle',
    ],
    ['calibration', '0.0050', '9.4 %', '∞', 'Certificate C-21 of Vane probe (VP-0001): U = 0.010 m/s, k = 2'],
    ['resolution', '0.0029', '3.1 %', '∞', 'Half a step of 0.010 m/s of the display of Vane probe (VP-0001)'],
  ] as const) {
    await test.step(term, async () => {
      const name = words('budget.source', { source: term })
      const opener = budget.getByRole('button', { name })
      await expect(
        budget
          .getByRole('row')
          .filter({ has: page.getByRole('button', { name }) })
          .getByRole('cell'),
      ).toHaveText([contribution, share, degrees])
      await opener.click()
      await expect(opener).toHaveAttribute('aria-expanded', 'true')
      await expect(budget.locator(`[id="${await opener.getAttribute('aria-controls')}"]`)).toContainText(origin)
    })
  }
})

/*
 * demo-data: in Certification 2025 the component wash P-202 had 21.3 air changes per hour with U = 0.78, above its required 20. A draft that asks
 * for 25 fails it, since 21.3 + 0.78 < 25, in a certification that was signed a year ago.
 */
test('a draft of criteria shows what it would change in an old certification, and changes nothing', async ({ demo: { page } }) => {
  await workAs(page, 'Ilka Brandsdal')
  const before = await standing(page)

  await goTo(page, words('app.nav.criteria', {}))
  await main(page)
    .getByRole('link', { name: /Turbulent rooms/ })
    .click()
  const preview = page.getByRole('region', { name: words('criteria.preview', {}) })
  await choose(preview, words('criteria.preview.certification', {}), 'Certification 2025')
  await button(preview, words('criteria.preview.show', {})).click()
  const answer = (of: string) =>
    preview.getByRole('heading', { name: words('criteria.preview.answer', { certification: 'Certification 2025', of }) })
  await expect(answer(words('criteria.revision', { revision: 2 }))).toBeVisible()
  await expect(room(preview, 'P-202')).toHaveCount(0)

  await button(page, words('criteria.edit', { title: 'Air changes' })).click()
  await choose(main(page), words('criteria.limit_from', {}), words('criteria.limit_from.value', {}))
  await fill(main(page), words('criteria.limit', {}), '25')
  // The unsaved draft is what is asked about from now on; what was answered before keeps its name until then.
  await expect(answer(words('criteria.revision', { revision: 2 }))).toBeVisible()
  await button(preview, words('criteria.preview.show', {})).click()
  await expect(answer(words('criteria.compare.draft', {}))).toBeVisible()
  await expect(room(preview, 'P-202')).toContainText(/pass\s*fail/)
  const changed = preview.getByRole('listitem').filter({ hasText: /^P-202\s*Air changes/ })
  await expect(changed).toContainText(/21\.3\s\/h against at least 25\.0\s\/h/)
  await expect(changed).toContainText(/U = 0\.78\s\/h/)
  // A return grille is never called a filter, whatever the criterion is titled.
  await expect(preview.getByRole('listitem').filter({ hasText: 'P-207/R1' })).toContainText('Return flow against its design')

  await test.step('nothing was written', async () => {
    await button(page, words('instruments.form.revert', {})).click()
    await expect(page.getByText(words('criteria.revision', { revision: 2 }), { exact: true }).first()).toBeVisible()
    expect(await standing(page)).toEqual(before)
  })
})

/** A room whose verdict would be another one, in the preview. */
const room = (preview: Locator, number: string) => preview.getByRole('paragraph').filter({ hasText: new RegExp(`^${number}`) })

/** What stands in the file: the newest entry of the trail, and the history of the room as it was judged and signed. */
async function standing(page: Page): Promise<{ trail: string | null; history: string[] }> {
  await visit(page, '/audit')
  const trail = await main(page).getByRole('row').nth(1).textContent()
  await goTo(page, words('app.nav.compare', {}))
  await settled(page)
  await main(page)
    .getByRole('button', { name: /P-202: air changes fell by/ })
    .click()
  const row = page
    .getByRole('table')
    .getByRole('rowheader', { name: /^P-202/ })
    .first()
    .getByRole('button')
  await row.click()
  await row.press('Enter')
  await expect(page).toHaveURL(/#\/history\//)
  await settled(page)
  return { trail, history: await main(page).getByRole('table').getByRole('row').allTextContents() }
}
