import path from 'node:path'
import { createRouterClient } from '@orpc/server'
import { type Browser, chromium, type Page } from '@playwright/test'
import { startBrowserHost } from '../e2e/application.ts'
import { findBrowser, TEST_BROWSER_OPTIONS } from '../e2e/browser.ts'
import { benchEngine } from './large-project.ts'

export type BenchWindow = { readonly page: Page; readonly browser: Browser; readonly address: string; readonly close: () => Promise<void> }

/** The production bundle in the browser host, in a window of 1280x800. The file stands among the recent projects. */
export async function openWindow(file: string): Promise<BenchWindow> {
  const folder = path.dirname(file)
  const settings = path.join(folder, `settings-${process.hrtime.bigint()}`)
  const engine = benchEngine(folder, settings)
  const api = createRouterClient(engine.router)
  await api.files.open({ path: file })
  const [person] = await api.entities.list({ kinds: ['person'], within: null })
  if (person) await api.files.settings({ personId: person.id })
  await engine.close()

  const { child, address } = await startBrowserHost(folder, settings)
  const browser = await chromium.launch({ executablePath: findBrowser(), args: TEST_BROWSER_OPTIONS })
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
  await page.goto(address)
  return {
    page,
    browser,
    address: new URL(address).origin,
    close: async () => {
      await browser.close()
      child.kill('SIGTERM')
      await new Promise((resolve) => child.once('exit', resolve))
    },
  }
}
