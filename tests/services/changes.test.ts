import { createRouterClient } from '@orpc/server'
import { afterEach, expect, test } from 'vitest'
import type { z } from 'zod'
import type { ChangeEvent } from '#core/api/changes.ts'
import { buildSite, type Client, type House, record, startHouse, startRun } from './bench-site.ts'

let house: House
afterEach(() => house.engine.close())

test('two clients on one project see what the other changed', async () => {
  house = startHouse()
  const site = await buildSite(house)
  const second: Client = createRouterClient(house.engine.router)
  const seen: z.infer<typeof ChangeEvent>[] = []
  const stop = new AbortController()
  const stream = await second.changes.subscribe(undefined, { signal: stop.signal })
  const listening = (async () => {
    for await (const event of stream) {
      seen.push(event)
      if (seen.some(({ what }) => what === 'readings')) return
    }
  })()

  const runId = await startRun(house, site)
  const reading = await record(house, site, runId, 1, '0.45')
  await listening
  stop.abort()
  expect(seen).toContainEqual({ what: 'run', runId })
  expect(seen).toContainEqual({ what: 'entities', kinds: ['run'], ids: [runId] })
  expect(seen.at(-1)).toEqual({ what: 'readings', runId })
  expect((await second.runs.get({ runId })).readings).toEqual([reading])
})
