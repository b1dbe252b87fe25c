import { expect, type Page } from '@playwright/test'

/** Where a screen of the demo is, and how to know that it has all its content. */
export type DemoScreen = { readonly name: string; readonly open: (page: Page) => Promise<void> }

const heading = (page: Page) => page.getByRole('main').getByRole('heading', { level: 1 })

/** Goes to an address within the page, as a bookmark would, and waits until its own screen stands there with all its content. */
export async function visit(page: Page, place: string): Promise<void> {
  const [path] = place.split('?')
  // A dialog hides the screen below it, its heading as well.
  if ((await page.getByRole('dialog').count()) > 0) await page.keyboard.press('Escape')
  await expect(page.getByRole('dialog')).toHaveCount(0)
  const before = await heading(page).textContent()
  const [pathBefore] = new URL(page.url()).hash.slice(1).split('?')
  await page.evaluate((to) => {
    window.location.hash = `#${to}`
  }, place)
  if (before !== null && path !== pathBefore) await expect(heading(page)).not.toHaveText(before)
  await settled(page)
}

/** Nothing is being fetched or worked out any more. */
export async function settled(page: Page): Promise<void> {
  await expect(heading(page)).toBeVisible()
  await expect(page.locator('[class*="busy"]')).toHaveCount(0)
}

export const link = async (page: Page, pattern: RegExp): Promise<string> => {
  const href = await page.locator('a[href]').evaluateAll((links, source) => {
    const wanted = new RegExp(source)
    return links.map((one) => one.getAttribute('href') ?? '').find((one) => wanted.test(one)) ?? null
  }, pattern.source)
  if (href === null) throw new Error(`No link leads to ${pattern.source}.`)
  return href.replace(/^#/, '')
}

const at = (name: string, place: string): DemoScreen => ({
  name,
  open: (page) => visit(page, place),
})

/** A screen reached over another one, by the first link of a kind there. */
export const over = (name: string, first: string, pattern: RegExp, suffix = ''): DemoScreen => ({
  name,
  open: async (page) => {
    await visit(page, first)
    await expect.poll(() => link(page, pattern).catch(() => null)).not.toBeNull()
    await visit(page, `${await link(page, pattern)}${suffix}`)
  },
})

/** What a key lays over the screen at hand. */
const overlay = (name: string, key: string): DemoScreen => ({
  name,
  open: async (page) => {
    await page.keyboard.press('Escape')
    await expect(page.getByRole('dialog')).toHaveCount(0)
    await page.keyboard.press(key)
    await expect(page.getByRole('dialog')).toBeVisible()
  },
})

export const DEMO_SCREENS: readonly DemoScreen[] = [
  at('home', '/'),
  at('new project', '/?do=new'),
  at('site', '/site'),
  over('room map', '/site', /^#\/room\/[0-9a-f-]+$/),
  over('room editor', '/site', /^#\/room\/[0-9a-f-]+$/, '/edit'),
  at('new room', '/room/new'),
  over('certification', '/site', /^#\/certification\//),
  {
    name: 'readings',
    open: async (page) => {
      await over('certification', '/site', /^#\/certification\//).open(page)
      await expect.poll(() => link(page, /^#\/run\//).catch(() => null)).not.toBeNull()
      await visit(page, await link(page, /^#\/run\//))
    },
  },
  over('air balance', '/site', /^#\/balance\//),
  at('compare', '/compare'),
  {
    name: 'history',
    open: async (page) => {
      await at('compare', '/compare').open(page)
      const row = page.getByRole('table').getByRole('rowheader').first().getByRole('button')
      await row.click()
      await row.press('Enter')
      await expect(page).toHaveURL(/#\/history\//)
      await settled(page)
    },
  },
  at('plan', '/plan'),
  at('criteria', '/criteria'),
  over('criteria set', '/criteria', /^#\/criteria\/./),
  at('instruments', '/instruments'),
  over('instrument', '/instruments', /^#\/instruments\/./),
  at('trail', '/audit'),
  at('project', '/project'),
  overlay('find', 'ControlOrMeta+k'),
  overlay('help', 'F1'),
]
