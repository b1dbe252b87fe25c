import { closeSync, createReadStream, openSync, writeSync } from 'node:fs'
import path from 'node:path'
import { createRouterClient } from '@orpc/server'
import Database from 'better-sqlite3'
import Papa from 'papaparse'
import { v7 } from 'uuid'
import { ImportOutcome } from '#core/api/imports.ts'
import type { ImportMapping } from '#core/model/import-mapping.ts'
import { benchEngine, makeLargeProject } from './large-project.ts'

const SIZE = { rooms: 5, filtersPerRoom: 100, rows: 10, columns: 10 } as const
const SAMPLES = 20
/** A million: 500 filters of 100 points with 20 samples each. */
const IMPORTED_ROWS = SIZE.rooms * SIZE.filtersPerRoom * SIZE.rows * SIZE.columns * SAMPLES

const MAPPING: ImportMapping = {
  name: 'Bench logger',
  delimiter: ';',
  headerRow: 1,
  header: ['tag', 'point', 'sample', 'velocity [m/s]', 'time'],
  decimal: 'comma',
  columns: { value: 4, terminal: 1, point: 2, sample: 3, unit: null, quantity: null, date: null, time: 5, instrument: null },
  unit: null,
  quantity: null,
  timeFormat: 'dd.MM.yyyy HH:mm:ss',
  note: '',
}

type Importing = {
  readonly importMs: number
  /** processor time of all threads, on a machine that has other work the steadier measure */
  readonly processor: { readonly importMs: number; readonly parseMs: number; readonly bareMs: number }
  readonly parseMs: number
  /** the same rows by a bare prepared statement into a copy of the file, with the same indexes and triggers */
  readonly bareMs: number
  /** the same rows by a bare prepared statement into a table without any index */
  readonly plainMs: number
  /** the longest that another question about the project waited while the import ran */
  readonly longestWaitMs: number
  readonly checkMs: number
}

/**
 * A million rows of a logger's file, from the file to committed readings, through the contract. Baseline: parsing the same file with
 * papaparse alone, then inserting the same rows by one bare prepared statement in one transaction, durably.
 */
export async function benchImporting(folder: string): Promise<{ name: string; value: number; aim: number; detail: string }[]> {
  const { importMs, parseMs, bareMs, plainMs, longestWaitMs, checkMs, processor } = await measureImporting(folder)
  const said = (took: number, parse: number, bare: number) => `${Math.round(took)} ms / (${Math.round(parse)} + ${Math.round(bare)} ms)`
  const wall = importMs / (parseMs + bareMs)
  const more = `; into a table without indexes ${Math.round(plainMs)} ms; longest wait of another question ${Math.round(longestWaitMs)} ms; check afterwards ${Math.round(checkMs)} ms`
  return [
    {
      name: 'import a million rows / parse them and insert them by a bare prepared statement',
      value: wall,
      aim: 3,
      detail: said(importMs, parseMs, bareMs) + more,
    },
    {
      name: 'the same by processor time',
      value: processor.importMs / (processor.parseMs + processor.bareMs),
      aim: 3,
      detail: said(processor.importMs, processor.parseMs, processor.bareMs),
    },
  ]
}

async function measureImporting(folder: string): Promise<Importing> {
  const file = path.join(folder, 'importing.facegrid')
  await makeLargeProject(file, { ...SIZE, visits: 0 })
  const engine = benchEngine(folder)
  const api = createRouterClient(engine.router)
  await api.files.open({ path: file })
  const [person] = await api.entities.list({ kinds: ['person'], within: null })
  const [instrument] = await api.entities.list({ kinds: ['instrument'], within: null })
  const rooms = await api.entities.list({ kinds: ['room'], within: null })
  if (!person || !instrument) throw new Error('The bench project is not as it was made.')
  const command = () => ({ id: v7(), personId: person.id, reason: '' })
  const certificationId = v7()
  const dates = { startsOn: '2026-03-02', endsOn: '2026-03-06', purpose: 'periodic' as const, why: '' }
  const roomIds = rooms.map(({ id }) => id)
  await api.certifications.startFrom({ command: command(), id: certificationId, previousId: null, name: 'Logged', ...dates, roomIds })
  for (const roomId of roomIds) {
    await api.runs.start({
      command: command(),
      id: v7(),
      certificationId,
      roomId,
      zoneId: null,
      method: 'face_velocity_grid',
      phase: 'as_found',
      plane: { kind: 'filter_face', distanceM: 0.15 },
      occupancyState: 'at_rest',
      operatingState: { airHandler: '', doors: '', equipment: '' },
      facingDegrees: 0,
      unit: 'm/s',
      averagingTimeS: 10,
      samplesPerPoint: SAMPLES,
    })
  }
  const csv = path.join(folder, 'logger.csv')
  writeLog(csv)
  const copy = (await api.files.saveCopy({ path: path.join(folder, 'bare.facegrid') })).path

  const parse = await timed(() => parseAlone(csv))
  let longestWaitMs = 0
  let running = true
  const asking = (async () => {
    while (running) {
      const asked = performance.now()
      await api.entities.list({ kinds: ['person'], within: null })
      await new Promise((resolve) => setTimeout(resolve, 50))
      longestWaitMs = Math.max(longestWaitMs, performance.now() - asked - 50)
    }
  })()
  const imported = await timed(async () => {
    const into = { kind: 'certification', certificationId } as const
    const order = { command: command(), path: csv, into, mapping: MAPPING, instrumentId: instrument.id, dryRun: false }
    let job = await api.imports.start(order)
    while (job.state === 'running') {
      await new Promise((resolve) => setTimeout(resolve, 50))
      job = await api.jobs.get({ id: job.id })
    }
    const outcome = job.failure ? null : ImportOutcome.parse(job.result)
    if (outcome?.readings !== IMPORTED_ROWS || !outcome.imported)
      throw new Error(`Not all was imported: ${JSON.stringify(job.failure ?? outcome?.problems[0])}`)
  })
  running = false
  await asking
  const check = await timed(async () => {
    let job = await api.jobs.startCheck()
    while (job.state === 'running') {
      await new Promise((resolve) => setTimeout(resolve, 50))
      job = await api.jobs.get({ id: job.id })
    }
    if (JSON.stringify(job.result).includes('"problem"')) throw new Error('check finds something wrong with what was imported')
  })
  await api.files.close()
  await engine.close()
  const { bare, plainMs } = bareInserts(file, copy)
  return {
    importMs: imported.ms,
    parseMs: parse.ms,
    bareMs: bare.ms,
    plainMs,
    longestWaitMs,
    checkMs: check.ms,
    processor: { importMs: imported.processorMs, parseMs: parse.processorMs, bareMs: bare.processorMs },
  }
}

function writeLog(csv: string): void {
  const handle = openSync(csv, 'w')
  writeSync(handle, 'Tag;Point;Sample;Velocity [m/s];Time\n')
  let second = 0
  for (let room = 0; room < SIZE.rooms; room += 1) {
    for (let filter = 1; filter <= SIZE.filtersPerRoom; filter += 1) {
      const tag = `B-${100 + room}-${String(filter).padStart(3, '0')}`
      let text = ''
      for (let point = 1; point <= SIZE.rows * SIZE.columns; point += 1) {
        for (let sample = 1; sample <= SAMPLES; sample += 1) {
          second += 1
          const clock = [Math.floor(second / 3600) % 24, Math.floor(second / 60) % 60, second % 60].map((part) =>
            String(part).padStart(2, '0'),
          )
          const day = String((Math.floor(second / 86400) % 28) + 1).padStart(2, '0')
          text += `${tag};${point};${sample};0,${430 + ((second * 7919) % 41)};${day}.02.2026 ${clock.join(':')}\n`
        }
      }
      writeSync(handle, text)
    }
  }
  closeSync(handle)
}

function parseAlone(csv: string): Promise<void> {
  return new Promise((resolve, reject) => {
    Papa.parse(createReadStream(csv, { encoding: 'utf8' }), {
      delimiter: ';',
      chunk: () => undefined,
      complete: () => resolve(),
      error: reject,
    })
  })
}

const COLUMNS =
  'id, segment_id, number, run_id, location_id, sample, quantity, si, typed, unit, basis, instrument_id, person_id, at_ms, flags, note, entry_id'

function bareInserts(imported: string, copy: string): { bare: Took; plainMs: number } {
  const source = new Database(imported, { readonly: true })
  const rows = source.prepare<[], unknown[]>(`SELECT ${COLUMNS} FROM reading ORDER BY id`).raw().all()
  source.close()
  const db = new Database(copy)
  db.pragma('journal_mode = WAL')
  db.pragma('synchronous = FULL')
  db.pragma('foreign_keys = ON')
  // The segment and entry that the rows name are not in the copy; their links are checked at the commit, so one of each is made to fit.
  const [segmentId, entryId] = db.prepare<[], [number, number]>('SELECT max(segment_id), max(id) FROM audit_entry').raw().get() ?? [0, 0]
  const fitted = rows.map((row) => {
    const fit = [...row]
    fit[1] = segmentId
    fit[16] = entryId
    return fit
  })
  db.exec(
    `CREATE TABLE plain (id INTEGER PRIMARY KEY, segment_id INTEGER NOT NULL, number INTEGER NOT NULL, run_id INTEGER NOT NULL,
       location_id INTEGER NOT NULL, sample INTEGER NOT NULL, quantity TEXT NOT NULL, si REAL NOT NULL, typed TEXT NOT NULL, unit TEXT NOT NULL,
       basis TEXT NOT NULL, instrument_id INTEGER NOT NULL, person_id INTEGER NOT NULL, at_ms INTEGER NOT NULL, flags TEXT NOT NULL,
       note TEXT NOT NULL, entry_id INTEGER NOT NULL) STRICT`,
  )
  const insertAll = (table: string) => {
    const insert = db.prepare(`INSERT INTO ${table} (${COLUMNS}) VALUES (${COLUMNS.replace(/\w+/g, '?')})`)
    const watch = startWatch()
    db.transaction(() => {
      for (const row of fitted) insert.run(row)
    }).immediate()
    return watch()
  }
  const measured = { plainMs: insertAll('plain').ms, bare: insertAll('reading') }
  db.close()
  return measured
}

type Took = { readonly ms: number; readonly processorMs: number }

function startWatch(): () => Took {
  const start = performance.now()
  const before = process.cpuUsage()
  return () => {
    const { user, system } = process.cpuUsage(before)
    return { ms: performance.now() - start, processorMs: (user + system) / 1000 }
  }
}

async function timed(work: () => Promise<void>): Promise<Took> {
  const watch = startWatch()
  await work()
  return watch()
}
