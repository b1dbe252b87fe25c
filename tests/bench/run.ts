import { rmSync } from 'node:fs'
import path from 'node:path'
import { parseArgs } from 'node:util'
import { buildDemo } from '../../demo-data/build.ts'
import { productionBuild } from '../tooling/production-build.ts'
import { benchFolder, medianSyncMs } from './disk.ts'
import { benchEvaluating } from './evaluating.ts'
import { benchFirstScreen } from './first-screen.ts'
import { benchImporting } from './importing.ts'
import { largeProject } from './kept-project.ts'
import { benchPage } from './page.ts'
import { peakMemoryMb } from './peak-memory.ts'
import { benchRecording } from './recording.ts'
import { benchCalculation, benchWithUncertainty } from './uncertainty.ts'

/**
 * `npm run bench`: ratios against baselines named here, each pair measured in this one run on a real disk. Milliseconds do not travel from
 * machine to machine; ratios do. Nothing here fails a build: the aims are printed beside what was measured.
 *
 *   --only PART    one part alone: recording, importing, evaluating, uncertainty, memory, first-screen, page (repeat for more)
 *   --keep DIR     the large project is made in this folder and left there, and taken from there the next time
 */
const { values: asked } = parseArgs({ options: { only: { type: 'string', multiple: true }, keep: { type: 'string' } } })
const wanted = (part: Part) => asked.only === undefined || asked.only.includes(part)
type Part = 'recording' | 'importing' | 'evaluating' | 'uncertainty' | 'memory' | 'first-screen' | 'page'

const TOP = path.resolve(import.meta.dirname, '../..')
productionBuild(TOP)
const folder = benchFolder(TOP)
const say = (line: string) => process.stdout.write(`${line}\n`)
const ratio = (name: string, value: number, aim: number, detail: string) =>
  say(`${value <= aim ? 'within' : 'OVER  '}  ${name}: ${value.toFixed(2)} (aim: at most ${aim})  ${detail}`)
const ms = (value: number) => `${value.toFixed(2)} ms`

try {
  say(`disk: median of writing 4 KiB and syncing it ${ms(medianSyncMs(folder))}`)

  if (wanted('recording')) {
    const recording = await benchRecording(path.join(folder, 'recording'))
    ratio(
      'record one reading / the same two rows by bare prepared statements',
      recording.recordMs / recording.bareMs,
      1.5,
      `${ms(recording.recordMs)} / ${ms(recording.bareMs)}`,
    )
    say(
      `        the same as its caller waits for it / bare: ${(recording.callMs / recording.bareMs).toFixed(2)}  ${ms(recording.callMs)} / ${ms(recording.bareMs)}`,
    )
    say(
      `        record one reading / a one-row commit: ${(recording.recordMs / recording.oneRowMs).toFixed(2)}  ${ms(recording.recordMs)} / ${ms(recording.oneRowMs)}`,
    )
  }

  if (wanted('importing'))
    for (const { name, value, aim, detail } of await benchImporting(path.join(folder, 'importing'))) ratio(name, value, aim, detail)

  if (wanted('evaluating') || wanted('uncertainty') || wanted('memory') || wanted('first-screen')) {
    const demo = path.join(folder, 'invented-site.facegrid')
    await buildDemo(demo)
    const large = await largeProject(path.join(asked.keep ? path.resolve(asked.keep) : folder, 'large'), say)

    if (wanted('evaluating')) {
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
    }
    if (wanted('uncertainty')) {
      const { withMs, withoutMs } = benchCalculation()
      const { wholeWithMs, wholeWithoutMs } = await benchWithUncertainty(large)
      ratio(
        'evaluate 5,000 filters x 9 points with uncertainties / without any',
        wholeWithMs / wholeWithoutMs,
        1.5,
        `${ms(wholeWithMs)} / ${ms(wholeWithoutMs)}`,
      )
      say(`        the calculation alone: ${(withMs / withoutMs).toFixed(2)}  ${ms(withMs)} / ${ms(withoutMs)}`)
    }
    if (wanted('memory')) {
      const memory = { large: peakMemoryMb(TOP, large.path), demo: peakMemoryMb(TOP, demo) }
      ratio("peak memory of evaluating / the demo's", memory.large / memory.demo, 3, `${memory.large} MB / ${memory.demo} MB`)
    }
    if (wanted('first-screen')) {
      const first = await benchFirstScreen(demo, large.path)
      ratio("first screen of the large project / the demo's", first.largeMs / first.demoMs, 2, `${ms(first.largeMs)} / ${ms(first.demoMs)}`)
      say(
        `        the same with every result evaluated anew: ${(first.largeColdMs / first.demoColdMs).toFixed(2)}  ${ms(first.largeColdMs)} / ${ms(first.demoColdMs)}`,
      )
    }
  }

  if (wanted('page')) for (const line of await benchPage(path.join(folder, 'page'))) say(line)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
