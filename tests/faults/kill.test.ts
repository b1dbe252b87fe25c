import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Campaign, isInside, killCampaign } from './campaign.ts'
import { type PreparedRun, prepareRun } from './prepared-run.ts'
import { hasTracer } from './traced-calls.ts'

const AT_CALLS = 26
const BY_CLOCK = 10
let prepared: PreparedRun
let campaign: Campaign
beforeAll(async () => {
  prepared = await prepareRun()
  if (!hasTracer) console.warn('NOT RUN: kills at single writes and syncs. strace is not installed here; kills by the clock are run.')
  campaign = await killCampaign(prepared, { atCalls: AT_CALLS, byClock: BY_CLOCK, seed: Date.now() })
  console.log(campaign.report)
}, 300_000)
afterAll(() => prepared.remove())

it('kills as often as it says, and often inside a transaction', () => {
  expect(campaign.kills).toHaveLength((hasTracer ? AT_CALLS : 0) + BY_CLOCK)
  expect(campaign.kills.filter(({ fell }) => fell === 'after the end')).toEqual([])
  // Of the calls of a traced recording nearly all lie between its begin and its answer.
  if (hasTracer) expect(campaign.kills.filter(isInside).length).toBeGreaterThanOrEqual(AT_CALLS / 4)
})

it('loses no reading that was answered', () => {
  expect(campaign.kills.filter(({ lost }) => lost.length > 0)).toEqual([])
})

it('leaves a sound file with an unbroken trail, each recording whole or not there', () => {
  expect(campaign.kills.filter(({ unsound }) => unsound.length > 0)).toEqual([])
})
