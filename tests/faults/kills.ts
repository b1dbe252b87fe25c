// Hundreds of kills: every write and sync of a few recordings and of closing, and many by the clock. Ends with status 1 on any loss.
import { killCampaign } from './campaign.ts'
import { prepareRun } from './prepared-run.ts'
import { hasTracer } from './traced-calls.ts'

const prepared = await prepareRun()
const seed = Number(process.argv[2] ?? Date.now())
const { kills, report } = await killCampaign(prepared, {
  atCalls: Number.POSITIVE_INFINITY,
  byClock: 250,
  seed,
  onKill: (done) => {
    if (done % 25 === 0) console.log(`${done} kills so far`)
  },
})
prepared.remove()
const bad = kills.filter(({ lost, unsound }) => lost.length > 0 || unsound.length > 0)
if (!hasTracer) console.log('NOT RUN: kills at single writes and syncs, because strace is not installed here.')
console.log(`${report}\nseed ${seed}`)
for (const { how, fell, lost, unsound } of bad)
  console.log(`FAILED ${how}, ${fell}: lost ${lost.join('; ') || 'nothing'}; ${unsound.join('; ')}`)
console.log(`${bad.length} of ${kills.length} kills lost or broke something`)
process.exit(bad.length > 0 ? 1 : 0)
