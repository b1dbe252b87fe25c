import path from 'node:path'
import { median } from './disk.ts'
import { openWindow } from './window.ts'

/**
 * From choosing a recent project to its site on the screen with every room's verdict, in a fresh host and browser each time, the large
 * project and the demo in turn.
 */
export async function benchFirstScreen(demo: string, large: string): Promise<{ demoMs: number; largeMs: number }> {
  const times = { demo: [] as number[], large: [] as number[] }
  for (let round = 0; round < 5; round += 1) {
    times.demo.push(await openProject(demo))
    times.large.push(await openProject(large))
  }
  return { demoMs: median(times.demo), largeMs: median(times.large) }
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
