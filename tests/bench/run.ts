import { rmSync, statSync } from 'node:fs'
import path from 'node:path'
import { buildDemo } from '../../demo-data/build.ts'
import { productionBuild } from '../tooling/production-build.ts'
import { benchFolder, medianSyncMs } from './disk.ts'
import { benchEvaluating } from './evaluating.ts'
import { benchFirstScreen } from './first-screen.ts'
import { makeLargeProject } from './large-project.ts'
import { benchPage } from './page.ts'
import { peakMemoryMb } from './peak-memory.ts'
import { benchRecording } from './recording.ts'

/**
 * `npm run bench`: ratios against baselines named here, each pair measured in this one run on a real disk. Milliseconds do not travel from
 * machine to machine; ratios do. Nothing here fails a build: the aims are printed beside what was measured.
 */
const TOP = path.resolve(import.meta.dirname, '../..')
productionBuild(TOP)
const folder = benchFolder(TOP)
const say = (line: string) => process.stdout.write(`${line}\n`)
const ratio = (name: string, value: number, aim: number, detail: string) =>
  say(`${value <= aim ? 'within' : 'OVER  '}  ${name}: ${value.toFixed(2)} (aim: at most ${aim})  ${detail}`)
const ms = (value: number) => `${value.toFixed(2)} ms`

try {
  say(`disk: median of writing 4 KiB and syncing it ${ms(medianSyncMs(folder))}`)

  const recording = await benchRecording(path.join(folder, 'recording'))
  ratio(
    'record one reading / the same two rows by bare prepared statements',
    recording.recordMs / recording.bareMs,
    1.5,
    `${ms(recording.recordMs)} / ${ms(recording.bareMs)}`,
  )
  say(
    `        record one reading / a one-row commit: ${(recording.recordMs / recording.oneRowMs).toFixed(2)}  ${ms(recording.recordMs)} / ${ms(recording.oneRowMs)}`,
  )

  const demo = path.join(folder, 'invented-site.facegrid')
  await buildDemo(demo)
  const started = performance.now()
  const large = await makeLargeProject(path.join(folder, 'large', 'large.facegrid'), {
    rooms: 10,
    filtersPerRoom: 500,
    rows: 3,
    columns: 3,
    visits: 11,
  })
  say(
    `made the large project (5,000 filters, ${(5000 * 9 * 11).toLocaleString('en')} readings, ${(statSync(large.path).size / 1e6).toFixed(0)} MB) in ${((performance.now() - started) / 1000).toFixed(0)} s`,
  )

  const evaluating = await benchEvaluating(large)
  ratio(
    'evaluate 5,000 filters x 9 points / raw reading of the same locations and values',
    evaluating.evaluateMs / evaluating.rawMs,
    3,
    `${ms(evaluating.evaluateMs)} / ${ms(evaluating.rawMs)}`,
  )
  ratio(
    'compare two certifications / evaluate one',
    evaluating.compareMs / evaluating.evaluateMs,
    2.5,
    `${ms(evaluating.compareMs)} / ${ms(evaluating.evaluateMs)}`,
  )

  const memory = { large: peakMemoryMb(TOP, large.path), demo: peakMemoryMb(TOP, demo) }
  ratio("peak memory of evaluating / the demo's", memory.large / memory.demo, 3, `${memory.large} MB / ${memory.demo} MB`)

  const first = await benchFirstScreen(demo, large.path)
  ratio("first screen of the large project / the demo's", first.largeMs / first.demoMs, 2, `${ms(first.largeMs)} / ${ms(first.demoMs)}`)

  for (const line of await benchPage(path.join(folder, 'page'))) say(line)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
