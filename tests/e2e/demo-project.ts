import { execFileSync } from 'node:child_process'
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from '@playwright/test'
import type { FullExchange } from '#core/model/exchange.ts'
import { test as base, expect, type RunningApplication } from './application.ts'
import { words } from './english.ts'
import { openFromChooser } from './home.ts'
import { LOGGER } from './logger-file.ts'
import { typedTexts } from './typed-texts.ts'

const TOP = path.resolve(import.meta.dirname, '../..')
const FILE = 'demo.facegrid'

export { expect }

/** The application with the demo and a logger's file in its folder. The demo is built once for each worker and copied for each test. */
export const test = base.extend<{ demo: RunningApplication }, { demoFile: string; demoTexts: string[] }>({
  demoFile: [
    async ({ browserName: _ }, use) => {
      const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-demo-'))
      const file = path.join(folder, FILE)
      commandLine('demo', file)
      await use(file)
      rmSync(folder, { recursive: true, force: true })
    },
    { scope: 'worker', timeout: 120_000 },
  ],
  demoTexts: [
    async ({ demoFile }, use) => {
      const exchange = `${demoFile}.json`
      commandLine('export', demoFile, exchange)
      // Written by the program itself a moment ago, in the full form.
      await use([...LOGGER.words, ...typedTexts(JSON.parse(readFileSync(exchange, 'utf8')) as FullExchange)])
    },
    { scope: 'worker', timeout: 60_000 },
  ],
  demo: async ({ application, demoFile }, use) => {
    copyFileSync(demoFile, path.join(application.folder, FILE))
    writeFileSync(path.join(application.folder, LOGGER.fileName), LOGGER.content)
    await openFromChooser(application.page, FILE)
    await use(application)
  },
})

/** Runs the built command line; its failure fails the spec. */
function commandLine(...args: string[]): void {
  execFileSync(path.join(TOP, 'node_modules/.bin/node'), [path.join(TOP, 'dist/electron/cli.js'), ...args], { stdio: 'pipe' })
}

/** Picks who works, where the program asks for it. */
export async function workAs(page: Page, name: string): Promise<void> {
  const dialog = page.getByRole('dialog', { name: words('app.person.pick', {}) })
  await dialog.getByRole('button', { name }).click()
  await expect(dialog).toBeHidden()
}
