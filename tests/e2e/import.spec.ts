import { writeFileSync } from 'node:fs'
import path from 'node:path'
import type { Page } from '@playwright/test'
import { words } from './english.ts'
import { expectSaved } from './face.ts'
import { button, fill } from './form-parts.ts'
import { chooseFile, goTo } from './home.ts'
import { expect, test } from './loading-room.ts'

const YESTERDAY = new Date(Date.now() - 86_400_000).toISOString().slice(0, 10)
const HEAD = 'Tag;Point;Velocity [m/s];Time'
const row = (point: number, velocity: string) => `F-104/01;${point};${velocity};${YESTERDAY} 08:00:0${point}`
const NINE = [46, 44, 45, 47, 45, 46, 44, 45, 43].map((hundredths, index) => row(index + 1, `0,${hundredths}`))

const keep = (page: Page, readings: number) => button(page, words('import.do', { readings }))

/** Rows that name no instrument were read with the one of the bench. */
async function chooseInstrument(page: Page): Promise<void> {
  const field = page.getByRole('combobox', { name: words('import.instrument', {}) })
  if (!(await field.textContent())?.includes(words('import.instrument.pick', {}))) return
  await field.press('Enter')
  await page.getByRole('option', { name: /Anemometer R1/ }).press('Enter')
}

test('a logger’s file comes in by keyboard, row by row as it was seen, and its mapping is offered again', async ({
  bench: { page, folder },
}) => {
  writeFileSync(path.join(folder, 'logger.csv'), `Logger 7\n\n${HEAD}\n${NINE.join('\n')}\n`)
  await button(page, words('readings.tool.file', {})).press('Enter')
  await chooseFile(page, 'open_delimited', 'logger.csv', () => button(page, words('import.choose_file', {})).press('Enter'))
  await chooseInstrument(page)
  await expect(page.getByText(words('import.verdict', { rows: 9, readings: 9, problemRows: 0 }))).toBeVisible()
  await expect(page.getByRole('region', { name: /^Face of F-104\/01/ })).toContainText('0,47')
  await fill(page, words('import.mapping.name', {}), 'Logger of the bench')
  await button(page, words('import.mapping.save', {})).press('Enter')
  await expect(page.getByText(words('import.mapping.saved', { name: 'Logger of the bench' }))).toBeVisible()
  await keep(page, 9).press('Enter')
  await expect(page.getByText(words('import.done', { readings: 9, runs: 1 }))).toBeVisible()

  writeFileSync(path.join(folder, 'next.csv'), `${HEAD}\n${row(1, '0,50').replace('/01', '/02')}\n`)
  await chooseFile(page, 'open_delimited', 'next.csv', async () => {
    await button(page, words('import.other_file', {})).press('Enter')
    await button(page, words('import.choose_file', {})).press('Enter')
  })
  await expect(page.getByRole('combobox', { name: words('import.mapping', {}), exact: true })).toContainText('Logger of the bench')
  await page.getByRole('link', { name: words('import.to_run', {}) }).press('Enter')
  await page.keyboard.press('PageUp')
  await expectSaved(page, 1, '0,46')
})

test('by pointer, from the certification: a problem stands at its row, and nothing is written until it is gone', async ({
  bench: { page, folder },
}) => {
  writeFileSync(path.join(folder, 'odd.csv'), `${HEAD}\n${[...NINE, row(9, '0,44')].join('\n')}\n`)
  await goTo(page, words('app.nav.certification', {}))
  await page.getByRole('link', { name: words('import.title', {}) }).click()
  await chooseFile(page, 'open_delimited', 'odd.csv', () => button(page, words('import.choose_file', {})).click())
  await chooseInstrument(page)
  await expect(page.getByText(words('import.verdict', { rows: 10, readings: 9, problemRows: 1 }))).toBeVisible()
  await expect(page.getByText(words('import.same_place', { tag: 'F-104/01', point: 9, sample: 1, row: 10 }))).toBeVisible()
  await expect(page.getByText(words('import.problem_at', { row: 11, column: 2 }))).toBeVisible()
  await expect(keep(page, 9)).toBeDisabled()

  writeFileSync(path.join(folder, 'mended.csv'), `${HEAD}\n${NINE.join('\n')}\n`)
  await chooseFile(page, 'open_delimited', 'mended.csv', () => button(page, words('import.other_file', {})).click())
  await keep(page, 9).click()
  await expect(page.getByText(words('import.done', { readings: 9, runs: 1 }))).toBeVisible()

  // Undone, nothing of it stands: the same file comes in again without a question.
  await button(page, words('import.undo', {})).click()
  await expect(page.getByText(words('app.undo.done', { what: words('app.did.reading.import', {}) }))).toBeVisible()
  await chooseFile(page, 'open_delimited', 'mended.csv', () => button(page, words('import.choose_file', {})).click())
  await expect(keep(page, 9)).toBeEnabled()
})
