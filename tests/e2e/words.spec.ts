import type { Page } from '@playwright/test'
import { exchangeJsonSchema } from '#core/model/exchange-schema.ts'
import { DEMO_INQUIRIES } from './demo-inquiries.ts'
import { expect, test, workAs } from './demo-project.ts'
import { DEMO_SCREENS } from './demo-screens.ts'
import { words } from './english.ts'

/**
 * In the pseudo-language every letter that has an accented form wears it. A word that stays plain never went through the catalogue,
 * unless people typed it, or it is a unit, a date or a key.
 */
const PLAIN_WORD = /[A-Za-z]{3,}/g
const ACCENTED = /[áéíóúšţñŕ]/
/** Letters without an accented form in the pseudo-language: words of these alone tell nothing. */
const UNMARKED = /^[bdfmpqvxBDFMPQVX]+$/
const UNITS_AND_KEYS = new Set([
  'cfm',
  'inH',
  'Pa',
  'hPa',
  'ISO',
  'Ctrl',
  'Shift',
  'Esc',
  'min',
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
])

/** Codes of reasons and of the editor's tools that are English words, too. */
const CODES_OF_SCREENS = [
  'design',
  'low',
  'high',
  'select',
  'walls',
  'outline',
  'across',
  'row',
  'rows',
  'columns',
  'terminals',
  'points',
  'offset',
  'area',
]
/** Cells of tables that say nothing but the word of their code. */
const WORDS_OF_CODES = new Set(['supply', 'return', 'exhaust', 'agrees', 'disagrees', 'complete'])
/**
 * Codes travel into sentences as parameters, and where the sentence holds the same word the pseudo-language takes it for what a person
 * typed. They are let pass within a sentence of the catalogue only, never alone.
 */
const CODES: ReadonlySet<string> = new Set([...CODES_OF_SCREENS, ...codesIn(exchangeJsonSchema())])

test('every word of our own on every screen went through the catalogue', async ({ demo: { page }, demoTexts }) => {
  test.setTimeout(360_000)
  await workAs(page, 'Tomas Okmark')
  await page.getByRole('link', { name: words('app.nav.project', {}), exact: true }).click()
  await page.getByRole('combobox', { name: words('projects.settings.language', {}) }).click()
  await page.getByRole('option', { name: words('projects.language.pseudo', {}) }).click()
  await expect(page.getByRole('main').getByRole('heading', { level: 1 })).not.toHaveText(words('projects.settings', {}))
  await page.evaluate(() => document.querySelector('main')?.append('A literal text', ' '))
  expect(await plainWords(page, demoTexts), 'the check sees a text that did not go through the catalogue').toContainEqual(
    expect.stringContaining('A literal text'),
  )
  for (const screen of [...DEMO_SCREENS, ...DEMO_INQUIRIES]) {
    await test.step(screen.name, async () => {
      await screen.open(page)
      expect.soft(await plainWords(page, demoTexts), screen.name).toEqual([])
    })
  }
})

/** Plain words among what the page shows or tells a screen reader, with the text they stand in. */
async function plainWords(page: Page, typed: readonly string[]): Promise<string[]> {
  const texts = await page.evaluate(() => {
    const found = new Set<string>()
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      if (node.parentElement?.closest('script, style') === null && node.textContent?.trim()) found.add(node.textContent.trim())
    }
    for (const element of document.body.querySelectorAll('[aria-label], [title], [placeholder], [aria-description], [alt]')) {
      for (const name of ['aria-label', 'title', 'placeholder', 'aria-description', 'alt']) {
        const text = element.getAttribute(name)?.trim()
        if (text) found.add(text)
      }
    }
    return [...found]
  })
  return texts.flatMap((text) => {
    // A path or an address is not a sentence of ours.
    const ours = typed.reduce((left, written) => left.replaceAll(written, ' '), text).replaceAll(/\S*\/\S+|\b[0-9a-f]{64}\b/g, ' ')
    const plain = (ours.match(PLAIN_WORD) ?? []).filter(
      (word) =>
        !UNMARKED.test(word) && !UNITS_AND_KEYS.has(word) && !WORDS_OF_CODES.has(ours.trim()) && !(ACCENTED.test(ours) && CODES.has(word)),
    )
    return plain.length > 0 ? [`${plain.join(' ')} <- ${text.slice(0, 120)}`] : []
  })
}

/** Every fixed value of a JSON Schema. */
function codesIn(schema: unknown): string[] {
  if (Array.isArray(schema)) return schema.flatMap(codesIn)
  if (typeof schema !== 'object' || schema === null) return []
  return Object.entries(schema).flatMap(([key, value]) => {
    if (key === 'const') return typeof value === 'string' ? [value] : []
    if (key === 'enum' && Array.isArray(value)) return value.filter((code) => typeof code === 'string')
    return codesIn(value)
  })
}
