import type { Page } from '@playwright/test'
import { expect, test } from './application.ts'
import { words } from './english.ts'
import { button } from './form-parts.ts'
import { saveAs, startButton } from './home.ts'
import { tabTo, typeOver } from './keyboard.ts'

/*
 * A room of 16 m x 10 m with 8 filters across and 5 down: every cell is 2 m x 2 m, so that the centres lie at 1, 3 ... 15 m across and,
 * from the far end, at 9, 7 ... 1 m. Nothing here touches the pointer.
 */
test('a room of forty filters is laid out, aligned, tagged, undone and redone by keyboard alone', async ({ application }) => {
  const { page } = application
  await test.step('a project with an empty room', () => emptyRoom(page))
  await test.step('forty filters in an array', () => layOut(page))
  await test.step('one out of line, and the row aligned', () => align(page))
  await test.step('tags in sequence, there and back', () => tagInSequence(page))
  await test.step('four steps back', () => undoAll(page))
  await test.step('four steps forth', () => redoAll(page))
})

async function emptyRoom(page: Page): Promise<void> {
  await tabTo(page, startButton(page, 'projects.new'))
  await page.keyboard.press('Enter')
  await tabTo(page, page.getByRole('textbox', { name: words('projects.field.name', {}) }))
  await page.keyboard.type('Keys only')
  await tabTo(page, page.getByRole('textbox', { name: words('projects.field.person', {}) }))
  await page.keyboard.type('Ada Feldmark')
  await saveAs(page, 'save_project', null, () => page.keyboard.press('Enter'))
  await tabTo(page, button(page, words('site.facility.add', {})).last())
  await page.keyboard.press('Enter')
  await tabTo(page, page.getByRole('textbox', { name: words('site.facility.name', {}) }))
  await page.keyboard.type('Hall')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('main').getByText(words('site.empty_rooms', {}))).toBeVisible()

  await page.keyboard.press('ControlOrMeta+k')
  await page.keyboard.type(words('app.command.add_room', {}))
  await page.keyboard.press('Enter')
  await tabTo(page, page.getByRole('textbox', { name: words('map.prop.number', {}) }))
  await page.keyboard.type('K-1')
  await tabTo(page, page.getByRole('textbox', { name: words('map.shape.side', { of: { side: 'width' } }) }))
  await typeOver(page, '16')
  await page.keyboard.press('Tab')
  await typeOver(page, '10')
  await page.keyboard.press('Enter')
  await tabTo(page, board(page, 0))
}

async function layOut(page: Page): Promise<void> {
  await page.keyboard.press('a')
  await tabTo(page, page.getByRole('textbox', { name: words('map.array.rows', {}) }))
  await typeOver(page, '5')
  await page.keyboard.press('Tab')
  await typeOver(page, '8')
  // 16 m / 8 = 2 m and 10 m / 5 = 2 m; the first centre lies at half a cell from the far left corner: 1 m and 10 - 1 = 9 m.
  await expect(field(page, 'columnPitch')).toHaveValue(/^2\sm$/)
  await expect(field(page, 'rowPitch')).toHaveValue(/^2\sm$/)
  await expect(field(page, 'x')).toHaveValue(/^1\sm$/)
  await expect(field(page, 'y')).toHaveValue(/^9\sm$/)
  await page.keyboard.press('Enter')
  await expect(page.getByRole('option')).toHaveCount(40)
  await expect(board(page, 40)).toBeFocused()
}

async function align(page: Page): Promise<void> {
  await page.keyboard.press('Escape')
  await page.keyboard.press('ArrowRight')
  await expect(filter(page, 'K-1-01')).toHaveAttribute('aria-selected', 'true')
  await page.keyboard.press('Alt+ArrowRight')
  await expect(filter(page, 'K-1-02')).toHaveAttribute('aria-selected', 'true')
  // The properties are those of one filter, however many were walked over.
  await expect(page.getByRole('group', { name: words('map.prop.factor', {}) })).toHaveCount(1)
  // Three coarse steps of 10 cm towards the far end: 30 cm out of line.
  for (let step = 0; step < 3; step += 1) await page.keyboard.press('Shift+ArrowUp')
  await expect(undoButton(page, 'move')).toBeVisible()
  const pxPerM = await scale(page)
  expect((await top(page, 'K-1-01')) - (await top(page, 'K-1-02'))).toBeCloseTo(0.3 * pxPerM, 0)

  await page.keyboard.press('r')
  await expect(page.getByRole('option', { selected: true })).toHaveCount(8)
  await tabTo(page, button(page, words('map.align.open', {})))
  await page.keyboard.press('Enter')
  await pickFromMenu(page, words('map.align.to', { of: { to: 'bottom' } }))
  await expect(undoButton(page, 'align')).toBeVisible()
  expect((await top(page, 'K-1-01')) - (await top(page, 'K-1-02'))).toBeCloseTo(0, 0)
}

async function tagInSequence(page: Page): Promise<void> {
  await tabTo(page, board(page, 40))
  await page.keyboard.press('ControlOrMeta+a')
  await page.keyboard.press('t')
  await tabTo(page, page.getByRole('textbox', { name: words('map.tags.pattern', {}) }))
  await typeOver(page, 'SF-{101}')
  await tabTo(page, page.getByRole('combobox', { name: words('map.tags.path', {}) }))
  await page.keyboard.press('Enter')
  await pickFromList(page, words('map.tags.path.choice', { of: { path: 'rows_there_and_back' } }))
  await tabTo(page, button(page, words('map.tags.do', { n: 40 })))
  await page.keyboard.press('Enter')
  await expectTagged(page)
}

/** Row 1 runs from left to right as SF-101 to SF-108, row 2 back from right to left as SF-109 to SF-116; the fifth ends with SF-140. */
async function expectTagged(page: Page): Promise<void> {
  await expect(filter(page, 'SF-140')).toBeVisible()
  await expect(page.getByRole('option')).toHaveCount(40)
  expect(await left(page, 'SF-101')).toBeCloseTo(await left(page, 'SF-116'), 0)
  expect(await left(page, 'SF-108')).toBeCloseTo(await left(page, 'SF-109'), 0)
  expect(await left(page, 'SF-108')).toBeGreaterThan(await left(page, 'SF-101'))
  expect(await left(page, 'SF-140')).toBeCloseTo(await left(page, 'SF-108'), 0)
  expect((await top(page, 'SF-101')) - (await top(page, 'SF-102'))).toBeCloseTo(0, 0)
}

async function undoAll(page: Page): Promise<void> {
  await page.keyboard.press('ControlOrMeta+z')
  await expect(filter(page, 'K-1-40')).toBeVisible()
  await page.keyboard.press('ControlOrMeta+z')
  await expect.poll(async () => (await top(page, 'K-1-01')) - (await top(page, 'K-1-02'))).toBeGreaterThan(0.25 * (await scale(page)))
  await page.keyboard.press('ControlOrMeta+z')
  await expect.poll(async () => Math.round((await top(page, 'K-1-01')) - (await top(page, 'K-1-02')))).toBe(0)
  await page.keyboard.press('ControlOrMeta+z')
  await expect(board(page, 0)).toBeVisible()
  await expect(page.getByText(words('map.tool.hint', { of: { tool: 'select', selected: 0 } }))).toBeVisible()
}

async function redoAll(page: Page): Promise<void> {
  for (const count of [40, 40, 40, 40]) {
    const redo = page.getByRole('button', { name: /^Redo: / })
    const next = await redo.getAttribute('aria-label')
    await page.keyboard.press('ControlOrMeta+Shift+z')
    await expect(board(page, count)).toBeVisible()
    await expect(page.getByRole('button', { name: next ?? '', exact: true })).toBeHidden()
  }
  await expectTagged(page)
  // The table says the same in figures: 1 m and 9 m for the first, 15 m and 1 m for the last.
  await tabTo(page, board(page, 40))
  await page.keyboard.press('l')
  for (const [tag, x, y] of [
    ['SF-101', '1', '9'],
    ['SF-102', '3', '9'],
    ['SF-116', '1', '7'],
    ['SF-140', '15', '1'],
  ] as const) {
    await expect(cell(page, tag, words('map.prop.x', {}))).toHaveValue(new RegExp(`^${x}\\sm$`))
    await expect(cell(page, tag, words('map.prop.y', {}))).toHaveValue(new RegExp(`^${y}\\sm$`))
  }
}

const board = (page: Page, filters: number) => page.getByRole('listbox', { name: words('map.edit.canvas', { number: 'K-1', filters }) })
const filter = (page: Page, tag: string) => page.getByRole('option', { name: new RegExp(`^${tag},`) })
const field = (page: Page, key: 'columnPitch' | 'rowPitch' | 'x' | 'y') =>
  page.getByRole('textbox', { name: words('map.array.field', { of: { key } }) })
const cell = (page: Page, tag: string, what: string) => page.getByRole('textbox', { name: words('map.table.cell', { tag, what }) })
const undoButton = (page: Page, did: 'move' | 'align') =>
  page.getByRole('button', { name: words('app.strip.undo', { what: words(`app.did.${did}`, {}) }) })

async function box(page: Page, tag: string): Promise<{ x: number; y: number; width: number; height: number }> {
  const found = await filter(page, tag).boundingBox()
  if (!found) throw new Error(`${tag} is not drawn.`)
  return found
}
/** Centres: the ring around a selected filter makes its box larger on all sides alike. */
const top = async (page: Page, tag: string) => box(page, tag).then(({ y, height }) => y + height / 2)
const left = async (page: Page, tag: string) => box(page, tag).then(({ x, width }) => x + width / 2)

/** Pixels to the metre, from the 16 m floor. */
async function scale(page: Page): Promise<number> {
  const floor = await page.locator('path[class*="floor"]').boundingBox()
  if (!floor) throw new Error('The floor of the room is not drawn.')
  return floor.width / 16
}

async function pickFromMenu(page: Page, entry: string): Promise<void> {
  await arrowTo(page, page.getByRole('menuitem', { name: entry }))
  await page.keyboard.press('Enter')
}

async function pickFromList(page: Page, entry: string): Promise<void> {
  await arrowTo(page, page.getByRole('option', { name: entry, exact: true }))
  await page.keyboard.press('Enter')
}

async function arrowTo(page: Page, target: ReturnType<Page['getByRole']>): Promise<void> {
  await target.waitFor()
  for (let step = 0; step < 12; step += 1) {
    if ((await target.getAttribute('data-highlighted')) !== null) return
    await page.keyboard.press('ArrowDown')
  }
  throw new Error(`The arrow keys do not reach ${target.toString()}.`)
}
