import { existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { z } from 'zod'
import { type LargeProject, makeLargeProject } from './large-project.ts'

const LARGE = { rooms: 10, filtersPerRoom: 500, rows: 3, columns: 3, visits: 11 }
const Ids = z.object({ name: z.string(), certificationIds: z.array(z.string()), runIds: z.array(z.string()) })

/** The project of 5,000 filters and 495,000 readings; made anew, or the one that an earlier run left in this folder. */
export async function largeProject(folder: string, say: (line: string) => void): Promise<LargeProject> {
  const file = path.join(folder, 'large.facegrid')
  const ids = path.join(folder, 'large.json')
  // The names are written last: without them an interrupted run left half a project.
  if (existsSync(ids)) {
    say(`the large project is the one of an earlier run, ${megabytes(file)} MB`)
    return { path: file, ...Ids.parse(JSON.parse(readFileSync(ids, 'utf8'))) }
  }
  rmSync(folder, { recursive: true, force: true })
  mkdirSync(folder, { recursive: true })
  const started = performance.now()
  const made = await makeLargeProject(file, LARGE)
  const { path: _path, ...rest } = made
  writeFileSync(ids, JSON.stringify(rest))
  const filters = LARGE.rooms * LARGE.filtersPerRoom
  const readings = filters * LARGE.rows * LARGE.columns * LARGE.visits
  say(
    `made the large project (${filters.toLocaleString('en')} filters, ${readings.toLocaleString('en')} readings, ${megabytes(file)} MB) in ${((performance.now() - started) / 1000).toFixed(0)} s`,
  )
  return made
}

const megabytes = (file: string) => (statSync(file).size / 1e6).toFixed(0)
