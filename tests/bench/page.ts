import path from 'node:path'
import type { Page } from '@playwright/test'
import { makeLargeProject } from './large-project.ts'
import { type BenchWindow, openWindow } from './window.ts'

type TraceEvent = { name: string; ph: string; pid: number; tid: number; ts: number; dur?: number; args?: { name?: string } }

/** Work of a task that is script or layout; painting and compositing are told by the frame rate. */
const SCRIPT_OR_LAYOUT = new Set([
  'FunctionCall',
  'EvaluateScript',
  'EventDispatch',
  'FireAnimationFrame',
  'TimerFire',
  'UpdateLayoutTree',
  'Layout',
  'RunMicrotasks',
])

/** Typing readings and panning a map of 500 filters, with the longest script-and-layout task of each from Chromium's trace. */
export async function benchPage(folder: string): Promise<string[]> {
  const file = path.join(folder, 'page.facegrid')
  const project = await makeLargeProject(file, { rooms: 1, filtersPerRoom: 500, rows: 3, columns: 3, visits: 2, lastVisitBlank: true })
  const window = await openWindow(file)
  try {
    const { page } = window
    await page.getByRole('button', { name: /page/i }).first().click()
    const room = page.locator('main table a').first()
    await room.waitFor()
    const roomAddress = await room.getAttribute('href')
    const typing = await typeReadings(window, project.runIds.at(-1) ?? '')
    const panning = await panMap(window, roomAddress ?? '')
    return [typing, panning]
  } finally {
    await window.close()
  }
}

async function typeReadings({ page, browser, address }: BenchWindow, runId: string): Promise<string> {
  await page.goto(`${address}/#/run/${runId}`)
  // The person reads the cautions, as before any first reading.
  const confirm = page.locator('main').getByRole('checkbox').first()
  await confirm.waitFor()
  await confirm.press('Space')
  await page.locator('main').getByRole('button').last().click({ timeout: 5000 })
  await page.getByText('0/9').first().waitFor()
  await typeNumbers(page, 18)
  await browser.startTracing(page, { categories: TRACE })
  const start = performance.now()
  await typeNumbers(page, 90)
  const seconds = (performance.now() - start) / 1000
  const { longest, count } = longTasks(await browser.stopTracing())
  return verdictOf('typing 90 readings among 500 filters', longest, count, `${(90 / seconds).toFixed(0)} readings a second`)
}

async function typeNumbers(page: Page, count: number): Promise<void> {
  for (let index = 0; index < count; index += 1) {
    await page.keyboard.type(`0.4${index % 9}`)
    await page.keyboard.press('Enter')
  }
}

async function panMap({ page, browser, address }: BenchWindow, room: string): Promise<string> {
  await page.goto(`${address}/${room.replace(/^\//, '')}`)
  await page.locator('main svg').first().waitFor()
  await page.waitForTimeout(1500)
  const box = await page
    .locator('main svg')
    .filter({ has: page.locator('g') })
    .last()
    .boundingBox()
  const centre = box ? { x: box.x + box.width / 2, y: box.y + box.height / 2 } : { x: 640, y: 480 }
  await browser.startTracing(page, { categories: TRACE })
  const frames = page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        let count = 0
        const start = performance.now()
        const tick = () => {
          count += 1
          if (performance.now() - start < 3000) requestAnimationFrame(tick)
          else resolve(count / ((performance.now() - start) / 1000))
        }
        requestAnimationFrame(tick)
      }),
  )
  await page.mouse.move(centre.x, centre.y)
  await page.mouse.down()
  for (let step = 0; step < 120; step += 1) await page.mouse.move(centre.x + 120 * Math.sin(step / 9), centre.y + 80 * Math.sin(step / 7))
  await page.mouse.up()
  const rate = await frames
  const { longest, count } = longTasks(await browser.stopTracing())
  return verdictOf(
    'panning a map of 500 filters',
    longest,
    count,
    `${rate.toFixed(0)} frames a second (no graphics card: drawn by the processor)`,
  )
}

const TRACE = ['devtools.timeline', 'disabled-by-default-devtools.timeline', 'toplevel', '__metadata']

function verdictOf(what: string, longestMs: number, count: number, rest: string): string {
  return `${count === 0 ? 'within' : 'OVER  '}  ${what}: ${count} script-and-layout tasks over 50 ms, the longest ${longestMs.toFixed(1)} ms; ${rest}`
}

/** Tasks of the page's main thread that hold script or layout, and how long they took. */
function longTasks(trace: Buffer): { longest: number; count: number } {
  const { traceEvents } = JSON.parse(trace.toString()) as { traceEvents: TraceEvent[] }
  const mains = new Set(
    traceEvents
      .filter((event) => event.name === 'thread_name' && event.args?.name === 'CrRendererMain')
      .map((event) => `${event.pid}:${event.tid}`),
  )
  const onMain = traceEvents.filter((event) => event.ph === 'X' && mains.has(`${event.pid}:${event.tid}`))
  const tasks = onMain.filter((event) => event.name === 'RunTask' || event.name === 'ThreadControllerImpl::RunTask')
  if (tasks.length < 50) throw new Error(`The trace holds only ${tasks.length} tasks of the page's main thread.`)
  const inner = onMain.filter((event) => SCRIPT_OR_LAYOUT.has(event.name)).sort((a, b) => a.ts - b.ts)
  let longest = 0
  let count = 0
  for (const task of tasks) {
    const end = task.ts + (task.dur ?? 0)
    const own = inner.filter((event) => event.pid === task.pid && event.tid === task.tid && event.ts >= task.ts && event.ts < end)
    if (own.length === 0) continue
    const busy = union(own) / 1000
    longest = Math.max(longest, busy)
    if (busy > 50) count += 1
  }
  return { longest, count }
}

/** Time covered by the events together, in microseconds; nested ones count once. */
function union(events: readonly TraceEvent[]): number {
  let covered = 0
  let until = 0
  for (const event of events) {
    const from = Math.max(event.ts, until)
    const to = event.ts + (event.dur ?? 0)
    if (to > from) covered += to - from
    until = Math.max(until, to)
  }
  return covered
}
