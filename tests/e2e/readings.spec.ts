import { renameSync } from 'node:fs'
import path from 'node:path'
import { words } from './english.ts'
import { expectEmptyAtHand, expectSaved, filterAtHand, filterInStrip, pointOnFace, savedLine, typeReadings } from './face.ts'
import { button, fill } from './form-parts.ts'
import { goTo, startButton } from './home.ts'
import { expect, test } from './loading-room.ts'

test('an odd value is questioned beside the figure and stops nobody', async ({ bench: { page } }) => {
  await typeReadings(page, ['0.46', '0.44', '0.45', '4.6'])
  // Ten times what the others read; their middle is 0.45 m/s.
  await expect(page.getByText('4.60 m/s? The others lie near 0.45.', { exact: true })).toBeVisible()
  await expect(pointOnFace(page, 4)).toHaveAccessibleName(new RegExp(words('readings.flag.questioned', {})))
  await expect(page.getByRole('dialog')).toHaveCount(0)
  await expectEmptyAtHand(page, 5)
  await typeReadings(page, ['0.45'])
  await expectEmptyAtHand(page, 6)
  await expect(savedLine(page)).toBeVisible()
})

test('two steps back and typed again; a note is kept with its reading', async ({ bench: { page } }) => {
  await typeReadings(page, ['0.46', '0.44', '0.43'])
  await page.keyboard.press('ControlOrMeta+z')
  await page.keyboard.press('ControlOrMeta+z')
  await expectEmptyAtHand(page, 2)
  await expect(pointOnFace(page, 3)).toHaveAccessibleName(new RegExp(words('readings.cell.empty', {})))
  await typeReadings(page, ['0.43', '0.45'])
  await expectSaved(page, 2, '0.43')
  await expectSaved(page, 3, '0.45')
  await expect(savedLine(page)).toBeVisible()

  await button(page, words('readings.tool.note', {})).press('Enter')
  await fill(page, words('readings.note.label', {}), 'damper?')
  await button(page, words('readings.note.save', {})).press('Enter')
  await expect(pointOnFace(page, 3)).toHaveAccessibleName(new RegExp(words('readings.has_note', {})))
  await expect(savedLine(page)).toBeVisible()
  await expect(page.getByRole('complementary')).toContainText(words('readings.why.note', { note: 'damper?' }))
})

test('a filter at 0.31 m/s fails at once; the panel says how far below, and what it was last year', async ({ bench: { page } }) => {
  await typeReadings(page, Array<string>(9).fill('0.31'))
  await expect(filterAtHand(page, 'F-104/02')).toBeVisible()
  await expectEmptyAtHand(page, 1)
  await page.keyboard.press('PageUp')
  await expect(filterAtHand(page, 'F-104/01')).toBeVisible()
  // 20 % below 0.45 m/s is 0.36 m/s; 0.36 - 0.31 = 0.05 m/s.
  await expect(pointOnFace(page, 9)).toHaveAccessibleName(new RegExp(words('readings.below_limit', { limit: '0.36' })))
  await page.keyboard.press('F8')
  const why = page.getByRole('complementary')
  await expect(why).toContainText(/0\.31\s*m\/s against 0\.36\s*m\/s to 0\.54\s*m\/s/)
  await expect(why).toContainText(/0\.05\s*m\/s too low/)
  await expect(why).toContainText(/Last year: 0\.47\s*m\/s/)
  // 0.31 - 0.47 = -0.16 m/s; -0.16 / 0.47 = -34.0 %.
  await expect(why).toContainText(words('readings.why.since', { percent: (100 * (0.31 - 0.47)) / 0.47 }))
  await expect(why).toContainText(/[-−]34\.0 %/)
  await expect(filterInStrip(page, 'F-104/01')).toContainText(words('app.verdict.fail', {}))
  await expect(why.getByText(words('app.verdict.fail', {}), { exact: true }).first()).toBeVisible()
})

test('the air that is recorded beside the typing is in the figures at once', async ({ bench: { page } }) => {
  await typeReadings(page, Array<string>(9).fill('0.45'))
  await page.keyboard.press('PageUp')
  const figures = page.getByRole('region', { name: words('ways.figures', {}) })
  await expect(figures).toContainText(/0\.45 m\/s/)
  await expect(figures).toContainText(words('readings.figure.settled', {}))

  await button(page, words('readings.air.line_none', {})).click()
  const air = page.getByRole('form', { name: words('readings.air.title', {}) })
  await air.getByRole('textbox', { name: words('readings.air.temperature', {}) }).fill('20')
  await air.getByRole('textbox', { name: words('readings.air.relativeHumidity', {}) }).fill('50')
  await air.getByRole('textbox', { name: words('readings.air.pressure', {}) }).fill('900')
  await page.keyboard.press('Enter')
  await expect(air).toBeHidden()
  // Ideal gas: dry air of 20 degC and 101325 Pa has 101325 / (287.05 x 293.15) = 1.204 kg/m3. At 90000 Pa, with 0.5 x 2339 Pa of water vapour,
  // (90000 - 0.378 x 1169.5) / (287.05 x 293.15) = 1.064 kg/m3. 0.45 x 1.204 / 1.064 = 0.509 m/s; x 0.8 m2 x 3600 = 1466 m3/h.
  await expect(figures).toContainText(/0\.51 m\/s/)
  await expect(figures).toContainText(/146[5-7] m³\/h/)
  await expect(figures).toContainText(words('ways.basis', { of: { basis: 'actual' } }))
  await expect(figures).toContainText(words('readings.figure.settled', {}))
})

test('a block from a spreadsheet, a decimal comma, and an ambiguous figure', async ({ bench: { page } }) => {
  await page.evaluate((block) => {
    const data = new DataTransfer()
    data.setData('text/plain', block)
    document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }))
  }, '0,45\t0,44\t0,46\n0,45\t0,45\t0,43\n0,47\t0,44\t0,46')
  await expect(page.getByText(words('readings.paste.title', { count: 9 }))).toBeVisible()
  await button(page, words('readings.paste.save', {})).press('Enter')
  await expect(filterInStrip(page, 'F-104/01')).toContainText('9/9')
  await expect(savedLine(page)).toBeVisible()
  await filterInStrip(page, 'F-104/01').click()
  // Sum 4.05 of nine: 0.45 m/s; x 0.8 m2 x 3600 s/h = 1296 m3/h. What was typed with a comma stays as typed.
  await expect(page.getByRole('main').getByText(/^Mean/).first().locator('..')).toContainText('0.45 m/s')
  await expect(page.getByRole('main').getByText(/^Flow/).first().locator('..')).toContainText('1296 m³/h')
  await page.keyboard.press('F8')
  await expect(page.getByRole('complementary').getByRole('row', { name: /0,47/ })).toHaveCount(1)

  await page.keyboard.press('PageDown')
  await expectEmptyAtHand(page, 1)
  await typeReadings(page, ['0,42'])
  await expectSaved(page, 1, '0,42')
})

test('the host dies: after the restart every acknowledged reading is there and the technician stands at the very point', async ({
  bench,
}) => {
  await typeReadings(bench.page, [...Array<string>(9).fill('0.45'), '0.44', '0.43'])
  await expect(savedLine(bench.page)).toBeVisible()
  // Typed, not entered: the one number that may be lost.
  await bench.page.keyboard.type('0.4')
  const page = await bench.killAndRestart()
  // Nothing is clicked: what was open is open again, and says so.
  await expect(filterAtHand(page, 'F-104/02')).toBeVisible()
  await expect(page.getByText(words('projects.reopened', { name: 'Loading room' }))).toBeVisible()
  await expect(pointOnFace(page, 3)).toHaveAttribute('aria-current', 'true')
  await expectSaved(page, 1, '0.44')
  await expectSaved(page, 2, '0.43')
  await expect(filterInStrip(page, 'F-104/01')).toContainText('9/9')
  await expect(filterInStrip(page, 'F-104/02')).toContainText('2/9')
  await button(page, words('projects.reopened_others', {})).click()
  await expect(page.getByRole('link', { name: words('projects.back_to', { name: 'Loading room' }) })).toBeVisible()
})

test('a project that a person closed stays closed at the next start; one that cannot be opened is told on the first screen', async ({
  bench,
}) => {
  await goTo(bench.page, words('app.nav.project', {}))
  await button(bench.page, words('projects.close', {})).click()
  await expect(startButton(bench.page, 'projects.open')).toBeVisible()
  await expect(bench.page.getByRole('link', { name: words('projects.back_to', { name: 'Loading room' }) })).toHaveCount(0)
  let page = await bench.killAndRestart()
  const recent = page.getByRole('button', { name: /^Loading room/ })
  await expect(recent).toBeEnabled()

  await recent.click()
  await expect(page.getByRole('link', { name: 'Loading room', exact: true })).toBeVisible()
  renameSync(path.join(bench.folder, 'loading-room.facegrid'), path.join(bench.folder, 'elsewhere.facegrid'))
  page = await bench.killAndRestart()
  const told = page.getByRole('alert')
  await expect(told).toContainText(words('projects.not_reopened', { name: 'Loading room' }))
  await expect(told).toContainText(words('file.missing', { name: 'loading-room.facegrid' }))
  await button(page, words('app.close', {})).click()
  await expect(told).toHaveCount(0)
})

test('the connection drops while typing: the bench says so, typing goes on, and nothing is lost', async ({ bench: { page } }) => {
  let down = false
  const drops: (() => void)[] = []
  await page.routeWebSocket(/.*/, (socket) => {
    if (down) return socket.close()
    socket.connectToServer()
    drops.push(() => void socket.close())
  })
  await page.reload()
  await expectEmptyAtHand(page, 1)
  await typeReadings(page, ['0.46'])
  await expect(savedLine(page)).toBeVisible()

  down = true
  for (const drop of drops) drop()
  await expect(page.getByText(words('app.connection.lost', {}))).toBeVisible()
  await typeReadings(page, ['0.45', '0.44', '0.43'])
  await expect(page.getByText(words('readings.queue.stalled', { count: 3 }))).toBeVisible()
  await expect(pointOnFace(page, 4)).toHaveAccessibleName(new RegExp(words('readings.state.waiting', {})))
  await page.keyboard.type('0.4')

  down = false
  await expect(savedLine(page)).toBeVisible({ timeout: 20_000 })
  await page.keyboard.type('7')
  await page.keyboard.press('Enter')
  for (const [order, value] of [
    [1, '0.46'],
    [2, '0.45'],
    [3, '0.44'],
    [4, '0.43'],
    [5, '0.47'],
  ] as const) {
    await expectSaved(page, order, value)
  }
  await page.reload()
  await expect(filterInStrip(page, 'F-104/01')).toContainText('5/9')
})
