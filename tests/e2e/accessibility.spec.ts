import AxeBuilder from '@axe-core/playwright'
import type { Page } from '@playwright/test'
import { DEMO_INQUIRIES } from './demo-inquiries.ts'
import { expect, test, workAs } from './demo-project.ts'
import { DEMO_SCREENS } from './demo-screens.ts'
import { words } from './english.ts'

/** Rules of WCAG 2.0 to 2.2, levels A and AA, and the scanner's own good practices. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

for (const theme of ['light', 'dark'] as const) {
  // Only contrast depends on the theme: the dark pass asks for nothing else.
  const scan = (page: Page) => {
    // One document without frames: the scan needs no second page to gather what it found.
    const builder = new AxeBuilder({ page }).setLegacyMode()
    return theme === 'light' ? builder.withTags(TAGS).analyze() : builder.withRules(['color-contrast']).analyze()
  }

  test(`no screen has a violation that the scanner finds, ${theme}`, async ({ demo: { page } }) => {
    test.setTimeout(360_000)
    await workAs(page, 'Tomas Okmark')
    await page.getByRole('button', { name: words('app.strip.theme', {}) }).click()
    await page.getByRole('menuitem', { name: words(`app.strip.theme.${theme}`, {}), exact: true }).click()
    await expect(page.locator('html')).toHaveAttribute('data-theme', theme)
    const faint = theme === 'light' ? '#bbbbbb' : '#444444'
    await page.getByRole('heading', { level: 1 }).evaluate((heading, color) => {
      heading.style.color = color
    }, faint)
    expect(
      (await scan(page)).violations.map(({ id }) => id),
      'the scan sees what is hardly to be read',
    ).toContain('color-contrast')
    for (const screen of [...DEMO_SCREENS, ...DEMO_INQUIRIES]) {
      await test.step(screen.name, async () => {
        await screen.open(page)
        const { violations } = await scan(page)
        const told = violations.flatMap((violation) =>
          violation.nodes.map(
            (node) =>
              `${violation.id}: ${node.target.join(' ')} ${node.html.slice(0, 160)} ${node.any.map((check) => check.message).join('; ')}`,
          ),
        )
        expect.soft(told, screen.name).toEqual([])
      })
    }
  })
}
