import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { buildSite, startHouse, startRun } from '#tests/services/bench-site.ts'

const RECORDER = fileURLToPath(new URL('./recorder.ts', import.meta.url))
const POINTS = 8

/** A project at rest with an open run, and fresh copies of it with the command that records into a copy. */
export type PreparedRun = {
  readonly fresh: () => {
    readonly path: string
    readonly command: (recordings: number, host: 'headless' | 'browser') => string[]
    readonly remove: () => void
  }
  readonly remove: () => void
}

export async function prepareRun(): Promise<PreparedRun> {
  const house = startHouse()
  const site = await buildSite(house)
  const runId = await startRun(house, site)
  await house.engine.close()
  return {
    fresh: () => {
      const folder = mkdtempSync(join(tmpdir(), 'facegrid-kill-'))
      const path = join(folder, 'site.facegrid')
      copyFileSync(join(house.folder, 'site.facegrid'), path)
      return {
        path,
        command: (recordings, host) => [
          process.execPath,
          RECORDER,
          path,
          runId,
          site.personId,
          site.instrumentId,
          String(POINTS),
          String(recordings),
          host,
        ],
        remove: () => rmSync(folder, { recursive: true, force: true }),
      }
    },
    remove: () => rmSync(house.folder, { recursive: true, force: true }),
  }
}
