import { createHash } from 'node:crypto'
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { startBrowserHost } from './application.ts'
import { words } from './english.ts'
import { button } from './form-parts.ts'
import { chooseFile, goTo, openFromChooser, saveAs, startButton } from './home.ts'
import { expect, pickTechnician, TECHNICIAN, test } from './loading-room.ts'

const FILE = 'loading-room.facegrid'
/** Offsets in the head of an SQLite file (sqlite.org, "Database File Format", 1.3): user version, and where the first page's tree begins. */
const [USER_VERSION_AT, FIRST_PAGE_TREE_AT] = [60, 100]

test('a copy is saved, and the project opens again where it was left', async ({ application: { page, folder }, roomFile }) => {
  copyFileSync(roomFile, path.join(folder, FILE))
  await openFromChooser(page, FILE)
  await pickTechnician(page)
  await goTo(page, words('app.nav.project', {}))
  await saveAs(page, 'save_project', 'Second set', () => button(page, words('projects.copy', {})).click())
  await expect(page.getByText(/^A copy is at .*Second set\.facegrid/)).toBeVisible()
  expect(existsSync(path.join(folder, 'Second set.facegrid'))).toBe(true)

  await goTo(page, words('app.nav.criteria', {}))
  await expect(page.getByRole('heading', { level: 1, name: words('app.nav.criteria', {}) })).toBeVisible()
  // The place is kept with the file once a screen has been looked at for a moment.
  await page.waitForTimeout(1500)
  await page.keyboard.press('ControlOrMeta+k')
  await page.keyboard.type(words('app.command.close', {}))
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: words('projects.recent', {}) })).toBeVisible()
  await page.getByRole('button', { name: /^Loading room/ }).click()
  await expect(page.getByRole('heading', { level: 1, name: words('app.nav.criteria', {}) })).toBeVisible()
  await expect(page.getByRole('button', { name: words('app.person.label', {}) })).toContainText(TECHNICIAN)
})

test('files that cannot be opened are told apart in a sentence and stay as they are', async ({
  application: { page, folder },
  roomFile,
}) => {
  const sound = readFileSync(roomFile)
  const damaged = Buffer.from(sound)
  damaged.fill(0xff, FIRST_PAGE_TREE_AT, 1000)
  const newer = Buffer.from(sound)
  newer.writeUInt32BE(999, USER_VERSION_AT)
  const files: Record<string, { bytes: Buffer; sentence: RegExp }> = {
    'damaged.facegrid': { bytes: damaged, sentence: /damaged\.facegrid is damaged .*Nothing was changed\..*backups/ },
    'newer.facegrid': { bytes: newer, sentence: /newer\.facegrid was written by a newer Facegrid \(file step 999,.*Update the program/ },
    'letter.facegrid': {
      bytes: Buffer.from('Dear Sir or Madam, '.repeat(400)),
      sentence: /letter\.facegrid is not a Facegrid project file/,
    },
    'unfinished.facegrid': { bytes: Buffer.alloc(0), sentence: /unfinished\.facegrid is empty/ },
  }
  for (const [name, { bytes }] of Object.entries(files)) writeFileSync(path.join(folder, name), bytes)
  for (const [name, { bytes, sentence }] of Object.entries(files)) {
    await openFromChooser(page, name)
    await expect(page.getByRole('alert')).toHaveText(sentence)
    expect(hashOf(readFileSync(path.join(folder, name))), name).toBe(hashOf(bytes))
    await button(page.getByRole('alert'), words('app.close', {})).click()
  }
})

test('a damaged file leads to its backups, and the newest of them opens for reading', async ({
  application: { page, folder },
  roomFile,
}) => {
  const damaged = readFileSync(roomFile)
  damaged.fill(0xff, FIRST_PAGE_TREE_AT, 1000)
  writeFileSync(path.join(folder, FILE), damaged)
  mkdirSync(path.join(folder, `${FILE}-backups`))
  copyFileSync(roomFile, path.join(folder, `${FILE}-backups`, 'kept.facegrid'))
  await openFromChooser(page, FILE)
  await chooseFile(page, 'open_project', 'kept.facegrid', () =>
    button(page.getByRole('alert'), words('projects.look_at_backups', {})).click(),
  )
  // Backups are thinned out in time, so nothing is written into one.
  await expect(page.getByText(words('app.strip.read_only', {}), { exact: true })).toBeVisible()
  await expect(page.getByRole('main').getByRole('heading', { level: 1 })).toBeVisible()
})

test('a file that is open elsewhere says by whom and where, and can be read', async ({
  application: { page, folder },
  context,
  roomFile,
}) => {
  copyFileSync(roomFile, path.join(folder, FILE))
  await openFromChooser(page, FILE)
  await pickTechnician(page)
  await goTo(page, words('app.nav.site', {}))
  const elsewhere = await startBrowserHost(folder, path.join(folder, '../other-settings'))
  try {
    const other = await context.newPage()
    await other.goto(elsewhere.address)
    await openFromChooser(other, FILE)
    await expect(other.getByRole('alert')).toContainText(/loading-room\.facegrid is open for writing elsewhere: by .* on .*, since/)
    await button(other, words('app.failure.open_read_only', {})).click()
    await expect(other.getByText(words('app.strip.read_only', {}), { exact: true })).toBeVisible()
    await expect(other.getByRole('main').getByRole('heading', { level: 1 })).toBeVisible()
    await goTo(other, words('app.nav.site', {}))
    await expect(button(other, words('site.facility.add', {}))).toBeDisabled()
  } finally {
    elsewhere.child.kill('SIGTERM')
    await new Promise((resolve) => elsewhere.child.once('exit', resolve))
  }
})

test('a project goes out as an exchange file, comes in as a new project, and is checked on the screen', async ({
  application,
  roomFile,
}) => {
  const { page, folder } = application
  copyFileSync(roomFile, path.join(folder, FILE))
  await openFromChooser(page, FILE)
  await pickTechnician(page)
  await goTo(page, words('app.nav.project', {}))
  await saveAs(page, 'save_exchange', 'Out', () => button(page, words('projects.export', {})).click())
  await expect(page.getByText(/^The exchange file is at .*Out\.json/)).toBeVisible()

  await page.getByRole('link', { name: words('app.strip.projects', {}) }).click()
  // The place for the new project is asked for as soon as the exchange file is chosen.
  await saveAs(page, 'save_project', 'Back again', () =>
    chooseFile(page, 'open_exchange', 'Out.json', () => startButton(page, 'projects.import').click()),
  )
  const person = page.getByRole('dialog', { name: words('app.person.pick', {}) })
  const site = page.getByRole('main').getByRole('heading', { level: 1, name: words('site.title', {}) })
  await expect(site.or(person).first()).toBeVisible()
  if (await person.isVisible()) await pickTechnician(page)
  await expect(page.getByRole('rowheader', { name: /F-104/ })).toBeVisible()

  await goTo(page, words('app.nav.project', {}))
  await button(page, words('projects.check.start', {})).click()
  await expect(page.getByText(words('projects.check.sound', {}))).toBeVisible()
})

const hashOf = (bytes: Buffer): string => createHash('sha256').update(bytes).digest('hex')
