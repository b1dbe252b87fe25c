import { type ChildProcess, spawn } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { _electron, test as base, type ElectronApplication, type Page } from '@playwright/test'
import { electronBinary } from '#electron/electron-binary.ts'
import { answerDialogs } from './system-dialogs.ts'

export type HostOption = { host: 'browser' | 'desktop' }

export type RunningApplication = {
  readonly page: Page
  /** folder that project files of this test live in */
  readonly folder: string
  /** ends the host as a power cut would, and starts it again on the same files */
  readonly killAndRestart: () => Promise<Page>
  /** a second window on the same running application, where the host has such a thing */
  readonly secondPage: () => Promise<Page>
}

const TOP = path.resolve(import.meta.dirname, '../..')

/** One running application per test, on files of its own, against whichever host the project names. */
export const test = base.extend<{ application: RunningApplication } & HostOption>({
  host: ['browser', { option: true }],
  application: async ({ host, context, page: firstPage }, use) => {
    const home = mkdtempSync(path.join(os.tmpdir(), 'facegrid-e2e-'))
    const folder = path.join(home, 'projects')
    mkdirSync(folder)
    if (host === 'browser') {
      let running = await startBrowserHost(folder, path.join(home, 'settings'))
      await firstPage.goto(running.address)
      await use({
        page: firstPage,
        folder,
        killAndRestart: async () => {
          running.child.kill('SIGKILL')
          await exited(running.child)
          running = await startBrowserHost(folder, path.join(home, 'settings'), new URL(running.address).port)
          await firstPage.goto(running.address)
          return firstPage
        },
        secondPage: async () => {
          const second = await context.newPage()
          await second.goto(running.address)
          return second
        },
      })
      running.child.kill('SIGTERM')
      await exited(running.child)
    } else {
      const executablePath = electronBinary(TOP)
      if (!executablePath) throw new Error("Electron's binary is not installed: this project should not have been switched on.")
      const launch = () => _electron.launch({ executablePath, args: [TOP, `--user-data-dir=${path.join(home, 'settings')}`] })
      const firstPageOf = async (started: ElectronApplication) => {
        const shown = await started.firstWindow()
        answerDialogs(started, shown, folder)
        return shown
      }
      let running = await launch()
      await use({
        page: await firstPageOf(running),
        folder,
        killAndRestart: async () => {
          const ended = running.process()
          ended.kill('SIGKILL')
          await exited(ended)
          running = await launch()
          return firstPageOf(running)
        },
        secondPage: () => Promise.reject(new Error('The desktop host has one window.')),
      })
      await running.close()
    }
    rmSync(home, { recursive: true, force: true })
  },
})

export { expect } from '@playwright/test'

export async function startBrowserHost(folder: string, settings: string, port = '0'): Promise<{ child: ChildProcess; address: string }> {
  const child = spawn(
    path.join(TOP, 'node_modules/.bin/node'),
    [path.join(TOP, 'dist/electron/browser-host.js'), '--no-open', '--no-home', '--folder', folder, '--settings', settings, '--port', port],
    { stdio: ['ignore', 'pipe', 'pipe'] },
  )
  const address = await new Promise<string>((resolve, reject) => {
    let said = ''
    const hear = (chunk: Buffer) => {
      said += chunk.toString()
      const found = /^Address: (\S+)$/m.exec(said)
      if (found?.[1]) resolve(found[1])
    }
    child.stdout.on('data', hear)
    child.stderr.on('data', hear)
    child.once('exit', () => reject(new Error(`The browser host ended at its start: ${said}`)))
  })
  return { child, address }
}

function exited(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve()
  return new Promise((resolve) => child.once('exit', () => resolve()))
}
