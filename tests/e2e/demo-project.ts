import { execFileSync } from 'node:child_process'
import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from '@playwright/test'
import { test as base, expect, type RunningApplication } from './application.ts'
import { words } from './english.ts'
import { openFromChooser } from './home.ts'

const TOP = path.resolve(import.meta.dirname, '../..')
const FILE = 'demo.facegrid'

export { expect }

/** The application with the demo in its folder. The demo is built once for each worker and copied for each test. */
export const test = base.extend<{ demo: RunningApplication }, { demoFile: string }>({
  demoFile: [
    async ({ browserName: _ }, use) => {
      const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-demo-'))
      const file = path.join(folder, FILE)
      execFileSync(path.join(TOP, 'node_modules/.bin/node'), [path.join(TOP, 'dist/electron/cli.js'), 'demo', file], { stdio: 'pipe' })
      await use(file)
      rmSync(folder, { recursive: true, force: true })
    },
    { scope: 'worker', timeout: 120_000 },
  ],
  demo: async ({ application, demoFile }, use) => {
    copyFileSync(demoFile, path.join(application.folder, FILE))
    await openFromChooser(application.page, FILE)
    await use(application)
  },
})

/** Picks who works, where the program asks for it. */
export async function workAs(page: Page, name: string): Promise<void> {
  const dialog = page.getByRole('dialog', { name: words('app.person.pick', {}) })
  await dialog.getByRole('button', { name }).click()
  await expect(dialog).toBeHidden()
}
