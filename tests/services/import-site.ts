import { writeFileSync } from 'node:fs'
import path from 'node:path'
import { type ImportOrder, ImportOutcome } from '#core/api/imports.ts'
import type { ImportMapping } from '#core/model/import-mapping.ts'
import type { House, Site } from './bench-site.ts'

export const BY_TAG: ImportMapping = {
  name: 'Logger of the bench',
  delimiter: ';',
  headerRow: 1,
  header: ['tag', 'point', 'velocity [m/s]', 'time'],
  decimal: 'comma',
  columns: { value: 3, terminal: 1, point: 2, sample: null, unit: null, quantity: null, date: null, time: 4, instrument: null },
  unit: null,
  quantity: null,
  timeFormat: 'dd.MM.yyyy HH:mm:ss',
  note: '',
}

export const HEAD = 'Tag;Point;Velocity [m/s];Time'

/** Eight readings: the two filters of the bench site with their four points each. 2 March 2026, winter time: an hour before UTC. */
export const EIGHT = [1, 2]
  .flatMap((filter) => [1, 2, 3, 4].map((point) => `T-${filter};${point};0,4${filter}${point};02.03.2026 08:0${filter}:0${point}`))
  .join('\n')

export function writeText(house: House, name: string, text: string): string {
  const file = path.join(house.folder, name)
  writeFileSync(file, text)
  return file
}

type Asked = Partial<Pick<ImportOrder, 'mapping' | 'dryRun' | 'again' | 'seen' | 'into' | 'command' | 'instrumentId'>>

export async function startImport(house: House, site: Site, runId: string, file: string, more: Asked = {}) {
  return house.client.imports.start({
    command: house.newCommand(site.personId),
    path: file,
    into: { kind: 'run', runId, firstPoint: null },
    mapping: BY_TAG,
    instrumentId: site.instrumentId,
    dryRun: false,
    ...more,
  })
}

export async function ended(house: House, id: string) {
  for (;;) {
    const job = await house.client.jobs.get({ id })
    if (job.state !== 'running') return job
    await new Promise((resolve) => setTimeout(resolve, 10))
  }
}

/** Imports a file to the end and answers what became of it. */
export async function importFile(house: House, site: Site, runId: string, file: string, more: Asked = {}): Promise<ImportOutcome> {
  const job = await ended(house, (await startImport(house, site, runId, file, more)).id)
  if (job.failure) throw new Error(`${job.failure.kind}: ${job.failure.sentence.code} ${JSON.stringify(job.failure.sentence.params)}`)
  return ImportOutcome.parse(job.result)
}
