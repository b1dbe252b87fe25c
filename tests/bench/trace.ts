import type { Browser, Page } from '@playwright/test'

type TraceEvent = {
  name: string
  ph: string
  pid: number
  tid: number
  ts: number
  dur?: number
  tdur?: number
  args?: { name?: string }
}

/** Work that is script or layout: script with what it calls, style, and layout. Painting and compositing show in the frame rate. */
const SCRIPT_OR_LAYOUT: ReadonlySet<string> = new Set([
  'EvaluateScript',
  'EventDispatch',
  'FireAnimationFrame',
  'FireIdleCallback',
  'FunctionCall',
  'Layout',
  'MajorGC',
  'MinorGC',
  'ParseHTML',
  'RunMicrotasks',
  'TimerFire',
  'UpdateLayoutTree',
])

const CATEGORIES = ['devtools.timeline', 'disabled-by-default-devtools.timeline', '__metadata']
const LONG_MS = 50
const FEWEST_TASKS = 50

/** The tasks (RunTask) of the page's main thread that hold script or layout. Times in ms; wall time includes waiting for a processor. */
export type TaskTimes = {
  readonly tasks: number
  /** the largest sum of script and layout within one task */
  readonly longestMs: number
  /** the same by thread time: what the processor was really given to this thread; null where the trace has none */
  readonly longestThreadMs: number | null
  /** how many tasks held more than 50 ms of script and layout, by wall time */
  readonly over: number
  /** the same by thread time; null where the trace has none */
  readonly overThread: number | null
  /** the largest such task as a whole, painting included, by wall time */
  readonly longestWholeMs: number
}

export type Frames = { readonly perSecond: number; readonly longestGapMs: number }

/** Does the work under a Chromium trace, and counts the frames meanwhile. */
export async function traced(browser: Browser, page: Page, work: () => Promise<void>): Promise<{ times: TaskTimes; frames: Frames }> {
  await browser.startTracing(page, { categories: CATEGORIES })
  const frames = await framesDuring(page, work)
  return { times: taskTimes(await browser.stopTracing()), frames }
}

async function framesDuring(page: Page, work: () => Promise<void>): Promise<Frames> {
  const counter = await page.evaluateHandle(() => {
    const start = performance.now()
    const state = { stopped: false, frames: 0, start, last: start, longestGapMs: 0 }
    const tick = () => {
      const now = performance.now()
      state.longestGapMs = Math.max(state.longestGapMs, now - state.last)
      state.last = now
      state.frames += 1
      if (!state.stopped) requestAnimationFrame(tick)
    }
    requestAnimationFrame(tick)
    return state
  })
  await work()
  return counter.evaluate((state) => {
    state.stopped = true
    return { perSecond: state.frames / ((performance.now() - state.start) / 1000), longestGapMs: state.longestGapMs }
  })
}

function taskTimes(trace: Buffer): TaskTimes {
  const { traceEvents }: { traceEvents: TraceEvent[] } = JSON.parse(trace.toString())
  const thread = (event: TraceEvent) => `${event.pid}:${event.tid}`
  const mains = new Set(
    traceEvents.filter((event) => event.name === 'thread_name' && event.args?.name === 'CrRendererMain').map((event) => thread(event)),
  )
  const onMain = traceEvents.filter((event) => event.ph === 'X' && mains.has(thread(event)))
  const byThread = Map.groupBy(onMain, thread)
  const found: { script: Cover; wholeMs: number }[] = []
  let tasks = 0
  for (const events of byThread.values()) {
    const inner = events.filter((event) => SCRIPT_OR_LAYOUT.has(event.name)).sort((a, b) => a.ts - b.ts)
    let next = 0
    for (const task of events.filter((event) => event.name === 'RunTask').sort((a, b) => a.ts - b.ts)) {
      tasks += 1
      const end = task.ts + (task.dur ?? 0)
      const own: TraceEvent[] = []
      for (; next < inner.length; next += 1) {
        const event = inner[next]
        if (!event || event.ts >= end) break
        if (event.ts >= task.ts) own.push(event)
      }
      if (own.length > 0) found.push({ script: covered(own), wholeMs: (task.dur ?? 0) / 1000 })
    }
  }
  if (tasks < FEWEST_TASKS) throw new Error(`The trace holds only ${tasks} tasks of the page's main thread.`)
  const threadTimes = found.flatMap(({ script }) => script.threadMs ?? [])
  return {
    tasks: found.length,
    longestMs: Math.max(0, ...found.map(({ script }) => script.wallMs)),
    longestThreadMs: threadTimes.length === 0 ? null : Math.max(...threadTimes),
    over: found.filter(({ script }) => script.wallMs > LONG_MS).length,
    overThread: threadTimes.length === 0 ? null : threadTimes.filter((time) => time > LONG_MS).length,
    longestWholeMs: Math.max(0, ...found.map(({ wholeMs }) => wholeMs)),
  }
}

type Cover = { readonly wallMs: number; readonly threadMs: number | null }

/** Time of the events together, the outermost of them alone: what lies within another is part of it. Sorted by their start. */
function covered(events: readonly TraceEvent[]): Cover {
  let [wall, until, thread, told] = [0, 0, 0, false]
  for (const event of events) {
    if (event.ts < until) continue
    wall += event.dur ?? 0
    until = event.ts + (event.dur ?? 0)
    if (event.tdur === undefined) continue
    thread += event.tdur
    told = true
  }
  return { wallMs: wall / 1000, threadMs: told ? thread / 1000 : null }
}
