import { readdirSync } from 'node:fs'
import type { Page } from '@playwright/test'
import { expect, type RunningApplication, test } from './application.ts'
import { words } from './english.ts'
import { expectEmptyAtHand, filterAtHand, filterInStrip, savedLine, typeReadings } from './face.ts'
import { button, choose, enter, fill } from './form-parts.ts'
import { goTo, saveAs, startButton } from './home.ts'

const PROJECT = 'Ostermoor packing'
const INSTRUMENT = /^Anemometer X1/
const SET = 'Non-unidirectional room, ISO 14644 style'

/** Readings of the first visit in m/s, filter by filter in the order they are walked; every filter has nine points. */
const FIRST_VISIT = [
  ['0.45', '0.44', '0.46', '0.45', '0.45', '0.43', '0.47', '0.44', '0.46'],
  Array<string>(9).fill('0.46'),
  Array<string>(9).fill('0.44'),
  Array<string>(9).fill('0.45'),
]
/** A year on: the third filter has lost air, the others are the same. */
const SECOND_VISIT = FIRST_VISIT.map((readings, index) => (index === 2 ? Array<string>(9).fill('0.37') : readings))

test('a certifier does the whole job from an empty folder to the comparison of two visits', async ({ application }) => {
  const { page } = application
  await test.step('a project from nothing', () => createProject(application))
  await test.step('a second person', () => addPerson(page))
  await test.step('an instrument with its certificate', () => addInstrument(page))
  await test.step('a criteria set', () => adoptCriteria(page))
  await test.step('a facility and a room', () => drawRoom(page))
  await test.step('four filters', () => placeFilters(page))
  await test.step('the first certification and its run', () => startCertification(page, 'First visit'))
  await test.step('cautions before the first reading', () => readCautions(page))
  await test.step('the first visit, by keyboard alone', () => logFirstVisit(page))
  await test.step('verdicts on the room map', () => lookAtFirstMap(page))
  await test.step('the first run completed', () => completeRun(page))
  await test.step('a second certification from the first', () => startCertification(page, 'Second visit'))
  await test.step('the second visit', () => logSecondVisit(page))
  await test.step('the second run completed', () => completeRun(page))
  await test.step('the comparison', () => compareVisits(page))
  await test.step('the history', () => lookAtHistory(page))
})

async function createProject({ page, folder }: RunningApplication): Promise<void> {
  await startButton(page, 'projects.new').click()
  await fill(page, words('projects.field.name', {}), PROJECT)
  await fill(page, words('projects.field.organisation', {}), 'Invented Air Certification')
  await fill(page, words('projects.field.person', {}), 'Ada Feldmark')
  await saveAs(page, 'save_project', null, () => button(page, words('projects.create', {})).click())
  await expect(page.getByText(words('site.empty', {}))).toBeVisible()
  expect(readdirSync(folder), "the proposed name is the project's").toContain(`${PROJECT}.facegrid`)
}

async function addPerson(page: Page): Promise<void> {
  await page.getByRole('button', { name: words('app.person.label', {}) }).click()
  const dialog = page.getByRole('dialog', { name: words('app.person.pick', {}) })
  await button(dialog, words('app.person.add', {})).click()
  await fill(dialog, words('app.person.name', {}), 'Bo Kranich')
  await button(dialog, words('app.person.add_and_pick', {})).click()
  await expect(page.getByRole('button', { name: words('app.person.label', {}) })).toContainText('Bo Kranich')
}

async function addInstrument(page: Page): Promise<void> {
  await goTo(page, words('app.nav.instruments', {}))
  await button(page, words('instruments.add', {})).first().click()
  await fill(page, words('instruments.name', {}), 'Anemometer X1')
  await fill(page, words('instruments.serial', {}), 'INV-0001')
  await fill(page, words('instruments.averaging', {}), '10')
  await fill(page, words('instruments.low', {}), '0.05')
  await fill(page, words('instruments.high', {}), '30')
  await fill(page, words('instruments.resolution', {}), '0.01')
  await fill(page, words('instruments.percent', {}), '3')
  await fill(page, words('instruments.absolute', {}), '0.02')
  // Read as the air is, so that figures on actual air need no conditions.
  await choose(
    page,
    words('instruments.speaks_of', { of: { shown: 'velocity' } }),
    words('instruments.speaks_of.choice', { of: { choice: 'actual', shown: 'velocity' } }),
  )
  await button(page, words('app.save', {})).click()
  await button(page, words('instruments.certificate_add', {})).click()
  const dialog = page.getByRole('dialog', { name: words('instruments.certificate_new', {}) })
  await fill(dialog, words('instruments.certificate', {}), 'C-26-001')
  await fill(dialog, words('instruments.laboratory', {}), 'Invented Calibration')
  await dialog.getByLabel(words('instruments.calibrated_on', {})).fill(dayFromToday(-30))
  await dialog.getByLabel(words('instruments.due_on', {})).fill(dayFromToday(335))
  await button(dialog, words('app.save', {})).click()
  await expect(dialog).toBeHidden()
  await expect(page.getByRole('cell', { name: 'C-26-001' }).or(page.getByText('C-26-001')).first()).toBeVisible()
}

async function adoptCriteria(page: Page): Promise<void> {
  await goTo(page, words('app.nav.criteria', {}))
  await button(page, words('criteria.adopt_named', { name: SET })).click()
  await expect(page.getByRole('heading', { name: SET })).toBeVisible()
}

async function drawRoom(page: Page): Promise<void> {
  await goTo(page, words('app.nav.site', {}))
  await button(page, words('site.facility.add', {})).first().click()
  const dialog = page.getByRole('dialog', { name: words('site.facility.new', {}) })
  await fill(dialog, words('site.facility.name', {}), 'Hall 1')
  await button(dialog, words('app.save', {})).click()
  await button(page, words('site.room.add', {})).first().click()
  await fill(page, words('map.prop.number', {}), 'H-1')
  await fill(page, words('map.prop.name', {}), 'Packing')
  await fill(page, words('map.shape.side', { of: { side: 'width' } }), '6')
  await fill(page, words('map.shape.side', { of: { side: 'depth' } }), '4')
  await fill(page, words('map.prop.ceiling', {}), '2.5')
  await button(page, words('map.new.do', {})).click()
  await expect(page.getByRole('heading', { name: words('map.edit.title', { number: 'H-1', name: 'Packing' }) })).toBeVisible()
  await enter(page, words('map.prop.required_changes', {}), '60')
  await choose(page, words('map.criteria.set', {}), SET)
  await pullRightWall(page)
}

/** Pulls the right wall of the 6 m x 4 m room outwards by 1 m with the pointer. */
async function pullRightWall(page: Page): Promise<void> {
  await button(page, words('map.tool.choice', { of: { tool: 'walls' } })).click()
  const floor = await page.locator('path[class*="floor"]').boundingBox()
  if (!floor) throw new Error('The floor of the room is not drawn.')
  const pxPerM = floor.width / 6
  expect(floor.height / pxPerM).toBeCloseTo(4, 1)
  const [x, y] = [floor.x + floor.width, floor.y + floor.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  await page.mouse.move(x + pxPerM / 2, y, { steps: 4 })
  await page.mouse.move(x + pxPerM, y, { steps: 4 })
  await page.mouse.up()
  await expect(page.getByRole('textbox', { name: words('map.shape.side', { of: { side: 'width' } }) })).toHaveValue(/^7\sm$/)
  // 7 m x 4 m = 28 m2; 28 m2 x 2.5 m = 70 m3.
  await expect(fact(page, words('map.prop.area', {}))).toHaveText('28.000 m²')
  await expect(fact(page, words('map.prop.volume', {}))).toHaveText('70.0 m³')
  await button(page, words('map.tool.choice', { of: { tool: 'select' } })).click()
}

/** One filter placed and typed, three copies in a grid, tags in sequence. Centres: 2.5 and 4.5 m across, 2.8 and 1.2 m up. */
async function placeFilters(page: Page): Promise<void> {
  const board = page.getByRole('listbox', { name: words('map.edit.canvas', { number: 'H-1', filters: 0 }) })
  await board.focus()
  await page.keyboard.press('n')
  const filters = page.getByRole('listbox').getByRole('option')
  await expect(filters).toHaveCount(1)
  await enter(page, words('map.prop.width', {}), '0.9')
  await enter(page, words('map.prop.depth', {}), '0.9')
  await enter(page, words('map.prop.effective_area', {}), '0.8')
  await enter(page, words('map.prop.x', {}), '2.5')
  await enter(page, words('map.prop.y', {}), '2.8')
  await enter(page, words('map.prop.design_flow', {}), '1296')
  // 0.9 m x 0.9 m = 0.81 m2 needs 0.81 / 0.095 = 8.5, so 9 cells; the squarest grid of 9 is 3 x 3.
  await expect(page.getByText(words('map.prop.grid_proposed', { rows: 3, columns: 3 }))).toBeVisible()

  await button(page, words('map.copy.open', {})).click()
  await fill(page, words('map.copy.columns', {}), '2')
  await fill(page, words('map.copy.rows', {}), '2')
  await fill(page, words('map.array.field', { of: { key: 'columnPitch' } }), '2')
  await fill(page, words('map.array.field', { of: { key: 'rowPitch' } }), '1.6')
  await button(page, words('map.copy.do', { n: 3 })).click()
  await expect(filters).toHaveCount(4)

  await page.getByRole('listbox').focus()
  await page.keyboard.press('Control+a')
  await page.keyboard.press('t')
  await fill(page, words('map.tags.pattern', {}), 'H-1-{01}')
  await button(page, words('map.tags.do', { n: 4 })).click()
  for (const tag of ['H-1-01', 'H-1-02', 'H-1-03', 'H-1-04'])
    await expect(filters.filter({ hasText: tag }).or(page.getByRole('option', { name: new RegExp(`^${tag},`) }))).toBeVisible()
  await button(page, words('map.edit.done', {})).click()
}

/** The value beside a name in a list of facts. */
function fact(page: Page, name: string) {
  return page.getByRole('term').filter({ hasText: name }).locator('xpath=following-sibling::dd[1]')
}

/** A plain date some days from today, so that the certificate holds on the day the spec runs. */
function dayFromToday(days: number): string {
  return new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10)
}

async function startCertification(page: Page, name: string): Promise<void> {
  await goTo(page, words('app.nav.plan', {}))
  await fill(page, words('plan.name', {}), name)
  await page.getByLabel(words('plan.starts', {})).fill(dayFromToday(0))
  await page.getByLabel(words('plan.ends', {})).fill(dayFromToday(1))
  await button(page, words('plan.start', {})).click()
  await expect(page.getByRole('heading', { name })).toBeVisible()
  await button(page, words('certifications.room.start', {})).click()
  await button(page, words('certifications.start.go', {})).click()
}

async function readCautions(page: Page): Promise<void> {
  await expect(page.getByRole('heading', { name: words('readings.before.title', {}) })).toBeVisible()
  // 4 filters x 9 points = 36 points.
  await expect(page.getByText(words('readings.before.filters', { filters: 4, points: 36, samples: 1 }))).toBeVisible()
  await expect(page.getByText(words('caution.site_first', {}))).toBeVisible()
  const start = button(page, words('readings.before.start', {}))
  await page.getByRole('radio', { name: INSTRUMENT }).press('Space')
  await expect(start).toBeDisabled()
  await page.getByRole('checkbox', { name: words('readings.before.read_all', { name: 'Bo Kranich' }) }).press('Space')
  await start.press('Enter')
}

/** A figure and its unit beside its label, as on the bench and on the map. */
const figure = (page: Page, label: string) =>
  page
    .getByRole('main')
    .getByText(new RegExp(`^${label.replace(/[()]/g, '\\$&')}`))
    .first()
    .locator('..')

async function logFirstVisit(page: Page): Promise<void> {
  await expect(filterAtHand(page, 'H-1-01')).toBeVisible()
  await expectEmptyAtHand(page, 1)
  await typeReadings(page, FIRST_VISIT[0] ?? [])
  // Nine numbers and nine Enters: the tenth number would go to the first point of the next filter.
  await expect(filterAtHand(page, 'H-1-02')).toBeVisible()
  await expectEmptyAtHand(page, 1)

  await page.keyboard.press('PageUp')
  await expect(filterAtHand(page, 'H-1-01')).toBeVisible()
  // Sum 0.45 + 0.44 + 0.46 + 0.45 + 0.45 + 0.43 + 0.47 + 0.44 + 0.46 = 4.05; 4.05 / 9 = 0.45 m/s.
  await expect(figure(page, words('readings.figure.mean', {}))).toContainText('0.45 m/s')
  // Deviations in 0.01 m/s: 0 -1 1 0 0 -2 2 -1 1; squares sum to 12; sqrt(12 / 8) = 1.2247; 0.012247 / 0.45 = 2.72 %.
  await expect(figure(page, words('readings.figure.spread', {}))).toContainText('2.7 %')
  // The largest deviation is 0.02 m/s: 0.02 / 0.45 = 4.44 %, first at the sixth point.
  await expect(figure(page, words('readings.figure.deviation', {}))).toContainText('4.4 %')
  await expect(figure(page, words('readings.figure.deviation', {}))).toContainText(words('readings.figure.at_point', { order: 6 }))
  // 0.45 m/s x 0.8 m2 = 0.36 m3/s; x 3600 = 1296 m3/h, which is the design.
  await expect(figure(page, words('readings.figure.flow', {}))).toContainText('1296 m³/h')
  await expect(figure(page, words('readings.figure.mean', {}))).toContainText(words('readings.figure.design', { percent: 100 }))
  await expect(filterInStrip(page, 'H-1-01')).toContainText(words('app.verdict.pass', {}))

  await page.keyboard.press('PageDown')
  await expectEmptyAtHand(page, 1)
  for (const readings of FIRST_VISIT.slice(1)) await typeReadings(page, readings)
  await expect(page.getByText(words('readings.all_passed', {}))).toBeVisible()
  await expect(savedLine(page)).toBeVisible()
}

async function lookAtFirstMap(page: Page): Promise<void> {
  await openMap(page)
  // Flow of each: mean x 0.8 m2 x 3600 s/h. 0.46: 1324.8, 0.44: 1267.2. Limits 85 % and 115 % of 1296: 1101.6 to 1490.4.
  await expect(filterOnMap(page, 'H-1-01')).toHaveAccessibleName(/pass, 0\.45\sm\/s, 1296\sm³\/h/)
  await expect(filterOnMap(page, 'H-1-02')).toHaveAccessibleName(/pass, 0\.46\sm\/s, 1325\sm³\/h/)
  await expect(filterOnMap(page, 'H-1-03')).toHaveAccessibleName(/pass, 0\.44\sm\/s, 1267\sm³\/h/)
  await expect(filterOnMap(page, 'H-1-04')).toHaveAccessibleName(/pass, 0\.45\sm\/s, 1296\sm³\/h/)
  const figures = page.getByRole('region', { name: words('map.figures', {}) })
  await expect(figures.getByText(words('app.verdict.pass', {}), { exact: true }).first()).toBeVisible()
  // 1296 + 1324.8 + 1267.2 + 1296 = 5184 m3/h = 4 x 1296, the design; / 70 m3 = 74.057 per hour, at least 60.
  await expect(figure(page, words('map.figure.supply', {}))).toContainText('5184 m³/h')
  await expect(figure(page, words('map.figure.air_changes', {}))).toContainText('74.1 /h')
  // Equal areas: (0.45 + 0.46 + 0.44 + 0.45) / 4 = 0.45 m/s.
  await expect(figure(page, words('map.figure.mean', {}))).toContainText('0.45 m/s')
  // Deviations in 0.01 m/s: 0 1 -1 0; sqrt(2 / 3) = 0.8165; 0.008165 / 0.45 = 1.81 %.
  await expect(figure(page, words('map.figure.spread', {}))).toContainText('1.8 %')
}

async function logSecondVisit(page: Page): Promise<void> {
  await readCautions(page)
  await expectEmptyAtHand(page, 1)
  for (const readings of SECOND_VISIT) await typeReadings(page, readings)
  await expect(page.getByText(words('readings.all_passed', {}))).toBeVisible()
  await expect(savedLine(page)).toBeVisible()
  await openMap(page)
  // 0.37 m/s x 0.8 m2 x 3600 = 1065.6 m3/h, below 1101.6; the others stay within.
  await expect(filterOnMap(page, 'H-1-03')).toHaveAccessibleName(/fail, 0\.37\sm\/s, 1066\sm³\/h/)
  await expect(filterOnMap(page, 'H-1-01')).toHaveAccessibleName(/pass, 0\.45\sm\/s, 1296\sm³\/h/)
  const figures = page.getByRole('region', { name: words('map.figures', {}) })
  await expect(figures.getByText(words('app.verdict.fail', {}), { exact: true }).first()).toBeVisible()
  // 5184 - (1267.2 - 1065.6) = 4982.4 m3/h, 96.1 % of design; / 70 m3 = 71.177 per hour.
  await expect(figure(page, words('map.figure.supply', {}))).toContainText('4982 m³/h')
  await expect(figure(page, words('map.figure.air_changes', {}))).toContainText('71.2 /h')
  // The reason in words: 1101.6 - 1065.6 = 36 m3/h too low; 1065.6 / 1296 = 82.2 % of design.
  await filterOnMap(page, 'H-1-03').click()
  await expect(page.getByRole('complementary')).toContainText('1065.6 m³/h against 1101.6 m³/h to 1490.4 m³/h')
  await expect(page.getByRole('complementary')).toContainText('36 m³/h too low')
  await expect(fact(page, words('map.why.percent_of_design', {}))).toContainText('82.2 %')
}

async function completeRun(page: Page): Promise<void> {
  await goTo(page, words('app.nav.certification', {}))
  await button(page, words('certifications.run.complete', {})).click()
  await expect(page.getByText(words('certifications.complete.ready', {}))).toBeVisible()
  await button(page, words('certifications.complete.go', {})).click()
  await expect(page.getByText(words('certifications.run.state.complete', {}), { exact: true })).toBeVisible()
}

async function compareVisits(page: Page): Promise<void> {
  // An office screen: a smaller one leaves out the change in the unit of the figure.
  await page.setViewportSize({ width: 1920, height: 1080 })
  await goTo(page, words('app.nav.compare', {}))
  const rows = page.getByRole('table').getByRole('row')
  await expect(rows).toHaveCount(6)
  // What got worst stands first. H-1-03: 0.37 - 0.44 = -0.07 m/s; -0.07 / 0.44 = -15.9 %.
  await expectRow(page, 1, 'H-1-03', ['0.44', '0.37', 'm/s', '−0.07', '−15.9', 'pass', 'fail'])
  // Air changes: 74.057 then, 71.177 now; 71.177 - 74.057 = -2.880; -2.880 / 74.057 = -3.9 %. The room fails by its filter.
  await expectRow(page, 2, /^H-1\s*air changes$/, ['74.1', '71.2', '/h', '−2.9', '−3.9', 'pass', 'fail'])
  await expectRow(page, 3, 'H-1-01', ['0.45', '0.45', 'm/s', '0.00', '0.0', 'pass', 'pass'])
  await expectRow(page, 4, 'H-1-02', ['0.46', '0.46', 'm/s', '0.00', '0.0', 'pass', 'pass'])
  await expectRow(page, 5, 'H-1-04', ['0.45', '0.45', 'm/s', '0.00', '0.0', 'pass', 'pass'])
  const summary = page.getByRole('region', { name: words('compare.summary', {}) })
  await expect(summary).toContainText('H-1-03, Filter flow (1065.6 m³/h, at least 1101.6 m³/h)')
}

/** Then, now, unit, change, change in percent, verdict then, verdict now: each found by the heading of its column. */
async function expectRow(page: Page, index: number, head: string | RegExp, figures: readonly string[]): Promise<void> {
  const row = page.getByRole('table').getByRole('row').nth(index)
  await expect(row.getByRole('rowheader')).toHaveText(head)
  const columns = [
    words('compare.column.then', {}),
    words('compare.column.now', {}),
    words('compare.column.unit', {}),
    words('compare.column.change', {}),
    words('compare.column.percent', {}),
    words('compare.column.verdict_then', {}),
    words('compare.column.verdict_now', {}),
  ]
  const headings = await page.getByRole('columnheader').allTextContents()
  for (const [place, text] of figures.entries()) {
    const column = headings.findIndex((heading) => heading.trim() === columns[place])
    expect(column, `a column ${columns[place]}`).toBeGreaterThan(0)
    // The first heading is that of the row's own name.
    await expect(row.getByRole('cell').nth(column - 1)).toHaveText(text)
  }
}

async function lookAtHistory(page: Page): Promise<void> {
  await page
    .getByRole('row', { name: /^H-1-03/ })
    .getByRole('button')
    .click()
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: words('compare.history.title', { label: 'H-1-03' }) })).toBeVisible()
  await expect(page.getByRole('img', { name: words('compare.history.picture', { label: 'H-1-03', points: 2 }) })).toBeVisible()
  const table = page.getByRole('main').getByRole('table')
  // First the quantity that is judged: 1267.2 and 1065.6 m3/h; 1065.6 / 1267.2 - 1 = -15.9 %. Limits 1101.6 to 1490.4 m3/h.
  await expect(table.getByRole('row', { name: /First visit/ })).toContainText('1267')
  await expect(table.getByRole('row', { name: /Second visit/ })).toContainText('1066')
  await expect(table.getByRole('row', { name: /Second visit/ })).toContainText('−15.9')
  await expect(table.getByRole('row', { name: /Second visit/ })).toContainText('1102 to 1490')
  await expect(table.getByRole('row', { name: /Second visit/ })).toContainText(words('app.verdict.fail', {}))
  await button(page, words('compare.history.quantity.face_velocity', {})).click()
  await expect(table.getByRole('row', { name: /First visit/ })).toContainText('0.44')
  await expect(table.getByRole('row', { name: /Second visit/ })).toContainText('0.37')
  await expect(page.getByRole('img').locator('svg.recharts-surface').getByText('First visit')).toBeVisible()
  await expect(page.getByRole('img').locator('svg.recharts-surface').getByText('Second visit')).toBeVisible()
}

async function openMap(page: Page): Promise<void> {
  await page
    .getByRole('navigation', { name: words('app.region.where', {}) })
    .getByRole('link', { name: /^H-1 Packing/ })
    .click()
}

const filterOnMap = (page: Page, tag: string) => page.getByRole('option', { name: new RegExp(`^${tag},`) })
