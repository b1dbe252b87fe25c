import path from 'node:path'
import { median } from './disk.ts'
import { emptyCache } from './evaluating.ts'
import { openWindow } from './window.ts'

type FirstScreen = { demoMs: number; largeMs: number; demoColdMs: number; largeColdMs: number }

/**
 * From choosing a recent project to its site on the screen with its rooms' verdicts, in a fresh host and browser each time, the large
 * project and the demo in turn: as they were left, and with the disposable results in the file thrown away before.
 */
export async function benchFirstScreen(demo: string, large: string): Promise<FirstScreen> {
  const times = { demo: [] as number[], large: [] as number[], demoCold: [] as number[], largeCold: [] as number[] }
  for (let round = 0; round < 3; round += 1) {
    for (const [file, cold, warm] of [
      [demo, times.demoCold, times.demo],
      [large, times.largeCold, times.large],
    ] as const) {
      emptyCache(file)
      cold.push(await openProject(file))
      warm.push(await openProject(file), await openProject(file))
    }
  }
  return {
    demoMs: median(times.demo),
    largeMs: median(times.large),
    demoColdMs: median(times.demoCold),
    largeColdMs: median(times.largeCold),
  }
}

async function openProject(file: string): Promise<number> {
  const window = await openWindow(file)
  try {
    const entry = window.page.getByRole('button', { name: new RegExp(path.basename(file, '.facegrid'), 'i') }).first()
    await entry.waitFor()
    const start = performance.now()
    await entry.click()
    await window.page.locator('main table a').first().waitFor()
    await window.page
      .locator('main table')
      .getByText(/^(pass|fail|not tested|inconclusive|not valid)$/)
      .first()
      .waitFor()
    return performance.now() - start
  } finally {
    await window.close()
  }
}
