import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { startBrowserHost } from './application.ts'
import { words } from './english.ts'
import { goTo, openFromChooser } from './home.ts'
import { expect, pickTechnician, test } from './loading-room.ts'

const FILE = 'loading-room.facegrid'

for (const fetched of [false, true]) {
  test(`when the program is gone the page stays and says so, ${fetched ? 'also on a screen not visited yet' : 'also where a screen is not fetched yet'}`, async ({
    page,
    roomFile,
  }) => {
    const home = mkdtempSync(path.join(os.tmpdir(), 'facegrid-gone-'))
    const folder = path.join(home, 'projects')
    mkdirSync(folder)
    copyFileSync(roomFile, path.join(folder, FILE))
    const { child, address } = await startBrowserHost(folder, path.join(home, 'settings'))
    try {
      await page.goto(address)
      await openFromChooser(page, FILE)
      await pickTechnician(page)
      await expect(page.getByRole('main').getByRole('heading', { level: 1 })).toBeVisible()
      // The other screens are fetched when the page has had a moment.
      if (fetched) await page.waitForTimeout(5000)
      child.kill('SIGKILL')
      await expect(page.getByText(words('app.connection.lost', {}))).toBeVisible()
      await goTo(page, words('app.nav.compare', {}))
      await page.waitForTimeout(2500)
      await expect(page.getByText(words('app.connection.lost', {}))).toBeVisible()
      await expect(page.getByRole('navigation').getByRole('link', { name: words('app.nav.site', {}), exact: true })).toBeVisible()
      if (fetched) await expect(page.getByRole('heading', { level: 1, name: words('app.nav.compare', {}) })).toBeVisible()
      await goTo(page, words('app.nav.site', {}))
      await expect(page.getByRole('main').getByRole('heading', { level: 1 })).toBeVisible()
    } finally {
      child.kill('SIGKILL')
      rmSync(home, { recursive: true, force: true })
    }
  })
}
