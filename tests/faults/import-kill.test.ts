import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { v7 } from 'uuid'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openProjectFile } from '#electron/project-file/open.ts'
import { checkFile } from '#electron/services/job-work.ts'
import { buildSite, type House, startHouse, startRun, terminal } from '#tests/services/bench-site.ts'
import { BY_TAG } from '#tests/services/import-site.ts'

/* Kills fall by the clock, spread evenly over the time that the same import takes undisturbed, from the start of its reading to after
   its end. */

const CLI = fileURLToPath(new URL('../../electron/cli.ts', import.meta.url))
const [ROWS, SAMPLES] = [20, 20]
const READINGS = ROWS * ROWS * SAMPLES
const KILLS = 14
const MAPPING = { ...BY_TAG, headerRow: null, header: [], columns: { ...BY_TAG.columns, sample: 3, value: 4, time: null } }

let house: House
let runId: string
let tookMs: number
beforeAll(async () => {
  house = startHouse()
  const site = await buildSite(house)
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: site.roomId,
    changes: [
      {
        kind: 'terminal',
        id: v7(),
        parentId: site.roomId,
        revision: null,
        body: terminal('T-3', 4, { grid: { rows: ROWS, columns: ROWS } }),
      },
    ],
  })
  runId = await startRun(house, site, { samplesPerPoint: SAMPLES })
  await house.engine.close()
  const rows = Array.from({ length: READINGS }, (_, at) => `T-3;${Math.floor(at / SAMPLES) + 1};${(at % SAMPLES) + 1};0,4${at % 100}`)
  writeFileSync(path.join(house.folder, 'log.csv'), `${rows.join('\n')}\n`)
  writeFileSync(path.join(house.folder, 'mapping.json'), JSON.stringify(MAPPING))
  const whole = await importAndKill(null)
  expect(whole.kept).toBe(READINGS)
  tookMs = whole.tookMs
}, 120_000)
afterAll(() => rmSync(house.folder, { recursive: true, force: true }))

type Left = { readonly kept: number; readonly attachments: number; readonly problems: readonly unknown[]; readonly tookMs: number }

/** Imports into a fresh copy by the command line, kills it after a while, and opens what is left. */
async function importAndKill(afterMs: number | null): Promise<Left> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-import-kill-'))
  try {
    const file = path.join(folder, 'site.facegrid')
    copyFileSync(path.join(house.folder, 'site.facegrid'), file)
    const from = (name: string) => path.join(house.folder, name)
    const args = ['import-readings', file, from('log.csv'), '--mapping', from('mapping.json'), '--run', runId, '--instrument', 'TP-0001']
    const started = performance.now()
    const child = spawn(process.execPath, [CLI, ...args], { stdio: 'ignore' })
    const timer = afterMs === null ? null : setTimeout(() => child.kill('SIGKILL'), afterMs)
    await once(child, 'close')
    if (timer) clearTimeout(timer)
    const took = performance.now() - started
    const opened = openProjectFile(file, { clock: () => Date.now(), uuid: () => v7(), who: 'test', where: 'test', version: 'test' })
    const count = (sql: string) => opened.db.prepare<[], number>(sql).pluck().get() ?? Number.NaN
    const [kept, attachments] = [count('SELECT count(*) FROM reading'), count('SELECT count(*) FROM attachment')]
    opened.close()
    const problems = (checkFile(file)?.findings ?? []).filter(({ kind }) => kind === 'problem')
    return { kept, attachments, problems, tookMs: took }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

it('an import that is killed anywhere leaves a sound file, with all of its readings or none', async () => {
  const left: Left[] = []
  for (let index = 0; index < KILLS; index += 1) left.push(await importAndKill(tookMs * (0.4 + (0.65 * index) / KILLS)))
  expect(left.flatMap(({ problems }) => problems)).toEqual([])
  for (const { kept, attachments } of left) expect([kept, attachments]).toEqual(kept === 0 ? [0, 0] : [READINGS, 1])
  const none = left.filter(({ kept }) => kept === 0).length
  console.log(`import killed ${KILLS} times within ${Math.round(tookMs)} ms: ${none} times nothing kept, ${KILLS - none} times everything`)
  expect(none).toBeGreaterThan(0)
}, 180_000)
