import os from 'node:os'
import path from 'node:path'
import { createRouterClient } from '@orpc/server'
import type { Page } from '@playwright/test'
import { words } from '../e2e/english.ts'
import { savedLine, typeReadings } from '../e2e/face.ts'
import { benchEngine, makeLargeProject } from './large-project.ts'
import { type Frames, type TaskTimes, traced } from './trace.ts'
import { type BenchWindow, openWindow } from './window.ts'

const FILTERS = 500
const WARM_UP = 18
const TYPED = 126
const READ_ALL = new RegExp(words('readings.before.read_all', { name: '.+' }))
/** Longer than the page waits before it asks for the whole run's figures: their arrival belongs to typing, too. */
const REST_MS = 4000

/** Typing readings and moving about on a map, both of 500 filters, with the longest script-and-layout task of each from Chromium's trace. */
export async function benchPage(folder: string): Promise<string[]> {
  const file = path.join(folder, 'page.facegrid')
  const project = await makeLargeProject(file, {
    rooms: 1,
    filtersPerRoom: FILTERS,
    rows: 3,
    columns: 3,
    visits: 2,
    lastVisitBlank: true,
  })
  const runId = project.runIds.at(-1) ?? ''
  const window = await openWindow(file)
  const lines: string[] = []
  try {
    const { page } = window
    await expectTraceSees(window)
    await page.getByRole('button', { name: new RegExp(`^${project.name}`) }).click()
    const room = page.locator('main table a').first()
    await room.waitFor()
    const roomAddress = await room.getAttribute('href')
    lines.push(await typeOnBench(window, runId))
    lines.push(...(await moveOnMap(window, roomAddress ?? '')))
  } finally {
    await window.close()
  }
  await expectRecorded(file, runId, WARM_UP + TYPED)
  return lines
}

async function typeOnBench({ page, browser, address }: BenchWindow, runId: string): Promise<string> {
  await page.goto(`${address}/#/run/${runId}`)
  await page.getByRole('radio').first().press('Space')
  // The person reads the cautions, as before any first reading.
  await page.getByRole('checkbox', { name: READ_ALL }).press('Space')
  await page.getByRole('button', { name: words('readings.before.start', {}) }).press('Enter')
  await page.getByText('0/9').first().waitFor()
  await typeReadings(page, numbers(WARM_UP))
  await savedLine(page).waitFor()
  await page.waitForTimeout(REST_MS)
  let seconds = 0
  const { times, frames } = await traced(browser, page, async () => {
    for (const _half of [1, 2]) {
      const start = performance.now()
      await typeReadings(page, numbers(TYPED / 2))
      seconds += (performance.now() - start) / 1000
      await savedLine(page).waitFor()
      await page.waitForTimeout(REST_MS)
    }
  })
  return told(`typing ${TYPED} readings among ${FILTERS} filters, ${(TYPED / seconds).toFixed(0)} a second`, times, frames)
}

const numbers = (count: number) => Array.from({ length: count }, (_, index) => `0.4${index % 9}`)

async function moveOnMap({ page, browser, address }: BenchWindow, room: string): Promise<string[]> {
  await page.goto(`${address}/${room.replace(/^\//, '')}`)
  const plan = page.getByRole('listbox').first()
  await plan.waitFor()
  await page.waitForTimeout(REST_MS)
  const shown = await plan.getByRole('option').count()
  if (shown !== FILTERS) throw new Error(`The map shows ${shown} filters instead of ${FILTERS}.`)
  const box = await plan.boundingBox()
  if (!box) throw new Error('The map has no place on the screen.')
  const centre = { x: box.x + box.width / 2, y: box.y + box.height / 2 }
  const panning = await traced(browser, page, () => pan(page, centre, 240))
  const far = await scaleOf(page)
  const zooming = await traced(browser, page, async () => {
    await page.mouse.move(centre.x, centre.y)
    for (const by of [-60, 40, -60]) {
      for (let step = 0; step < 20; step += 1) await wheel(page, by)
      await page.waitForTimeout(500)
    }
  })
  const close = await scaleOf(page)
  if (close < 1.5 * far) throw new Error(`The map was drawn at ${far} pixels a metre, and after zooming in at ${close}.`)
  const near = await traced(browser, page, () => pan(page, centre, 240))
  return [
    told(`panning a map of ${FILTERS} filters`, panning.times, panning.frames),
    told('zooming in and out on it', zooming.times, zooming.frames),
    told('panning it close up', near.times, near.frames),
  ]
}

async function pan(page: Page, centre: { x: number; y: number }, steps: number): Promise<void> {
  await page.mouse.move(centre.x, centre.y)
  await page.mouse.down()
  for (let step = 0; step < steps; step += 1) {
    await page.mouse.move(centre.x + 300 * Math.sin(step / 25), centre.y + 120 * Math.sin(step / 14))
    // Far from where the plan was last drawn and at rest, it is drawn anew: that belongs to panning, too.
    if (step % 40 === 39) await page.waitForTimeout(400)
  }
  await page.mouse.up()
  await page.waitForTimeout(500)
}

/** Pixels to a metre of the plan as it is drawn now. */
async function scaleOf(page: Page): Promise<number> {
  const drawn = await page.locator('[role=listbox] svg > g').first().getAttribute('transform')
  return Number(/^matrix\(([\d.]+)/.exec(drawn ?? '')?.[1])
}

async function wheel(page: Page, by: number): Promise<void> {
  await page.mouse.wheel(0, by)
  await page.waitForTimeout(16)
}

/** A task made long on purpose has to show in the trace. */
async function expectTraceSees({ browser, page }: BenchWindow): Promise<void> {
  const { times } = await traced(browser, page, async () => {
    await page.evaluate(() => {
      const block = () => {
        const until = performance.now() + 70
        while (performance.now() < until);
      }
      setTimeout(block, 0)
    })
    await page.waitForTimeout(1500)
  })
  if (times.over === 0 || times.longestMs < 65) throw new Error(`The trace shows ${times.longestMs.toFixed(1)} ms of a task of 70 ms.`)
}

/** What was typed has to stand in the file, or nothing was measured. */
async function expectRecorded(file: string, runId: string, count: number): Promise<void> {
  const engine = benchEngine(path.dirname(file))
  const api = createRouterClient(engine.router)
  await api.files.open({ path: file, readOnly: true })
  const { readings } = await api.runs.get({ runId })
  await engine.close()
  if (readings.length !== count) throw new Error(`${readings.length} readings were recorded instead of ${count}.`)
}

/**
 * Judged by wall time, as a person waits. Where other programs want more processors than there are, and the page's own processor time is
 * within, the line says so instead: such a run proves nothing either way.
 */
function told(what: string, times: TaskTimes, frames: Frames): string {
  const [load = 0] = os.loadavg()
  const busy = times.over > 0 && times.overThread === 0 && load > os.availableParallelism()
  const thread =
    times.longestThreadMs === null ? '' : `, by processor time ${times.overThread}, the longest ${times.longestThreadMs.toFixed(1)} ms`
  return [
    `${times.over === 0 ? 'within' : busy ? 'busy  ' : 'OVER  '}  ${what}: ${times.over} of ${times.tasks} script-and-layout tasks over 50 ms, the longest ${times.longestMs.toFixed(1)} ms${thread}`,
    `with painting ${times.longestWholeMs.toFixed(1)} ms`,
    `${frames.perSecond.toFixed(0)} frames a second, the longest wait for one ${frames.longestGapMs.toFixed(0)} ms (drawn by the processor)`,
    `load ${load.toFixed(1)} on ${os.availableParallelism()} processors`,
  ].join('; ')
}
