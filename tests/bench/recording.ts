import path from 'node:path'
import { MessageChannel } from 'node:worker_threads'
import { createORPCClient } from '@orpc/client'
import type { ContractRouterClient } from '@orpc/contract'
import Database from 'better-sqlite3'
import { v7 } from 'uuid'
import type { Contract } from '#core/api/contract.ts'
import { serveContract } from '#electron/contract-server.ts'
import { createContractLink } from '#renderer/app/contract-link.ts'
import { median } from './disk.ts'
import { benchEngine, makeLargeProject } from './large-project.ts'

export type RecordingTimes = {
  /** at the engine's end of the port: from the message as it comes in to the answer handed to the port */
  readonly recordMs: number
  /** as the caller of the contract waits for it, in the same thread: its own link, both ways over the port, and the above */
  readonly callMs: number
  readonly bareMs: number
  readonly oneRowMs: number
}

/**
 * Recording one reading: message in over a real port, committed, answer out. Baselines, on a copy of the same file with the same
 * indexes and triggers: the same two rows (reading, audit entry) committed durably by bare prepared statements, and a one-row commit.
 */
export async function benchRecording(folder: string): Promise<RecordingTimes> {
  const file = path.join(folder, 'recording.facegrid')
  const project = await makeLargeProject(file, { rooms: 1, filtersPerRoom: 300, rows: 3, columns: 3, visits: 1 })
  const engine = benchEngine(folder)
  const { port1, port2 } = new MessageChannel()
  const atEngine = { cameIn: 0, wentOut: 0 }
  const served = serveContract(engine.router)((message) => {
    port2.postMessage(message)
    // Nobody listens to changes on this channel, so that the only thing sent after a message is its answer.
    if (atEngine.wentOut === 0) atEngine.wentOut = performance.now()
  })
  port2.on('message', (message) => {
    atEngine.cameIn = performance.now()
    atEngine.wentOut = 0
    void served.receive(message)
  })
  const { link, receive } = createContractLink((message) => port1.postMessage(message))
  port1.on('message', (message) => void receive(message))
  const api: ContractRouterClient<Contract> = createORPCClient(link)
  const opened = await api.files.open({ path: file })
  const [person] = await api.entities.list({ kinds: ['person'], within: null })
  const [instrument] = await api.entities.list({ kinds: ['instrument'], within: null })
  const [certificationId] = project.certificationIds
  const [room] = await api.entities.list({ kinds: ['room'], within: null })
  if (!person || !instrument || !room || !certificationId || opened.readOnly) throw new Error('The bench project is not as it was made.')
  const runId = v7()
  const detail = await api.runs.start({
    command: { id: v7(), personId: person.id, reason: '' },
    id: runId,
    certificationId,
    roomId: room.id,
    zoneId: null,
    method: 'face_velocity_grid',
    phase: 'as_left',
    plane: { kind: 'filter_face', distanceM: 0.15 },
    occupancyState: 'at_rest',
    operatingState: { airHandler: '', doors: '', equipment: '' },
    facingDegrees: 0,
    unit: 'm/s',
    averagingTimeS: 10,
    samplesPerPoint: 1,
  })
  await api.runs.readCautions({
    command: { id: v7(), personId: person.id, reason: '' },
    runId,
    revision: detail.run.revision,
    cautions: [],
  })

  const record = async (point: number): Promise<{ atEngine: number; call: number }> => {
    const start = performance.now()
    await api.readings.record({
      command: { id: v7(), personId: person.id, reason: '' },
      runId,
      instrumentId: instrument.id,
      entries: [{ point, sample: 1, typed: '0.452', unit: 'm/s', replaces: null, note: '' }],
    })
    return { atEngine: atEngine.wentOut - atEngine.cameIn, call: performance.now() - start }
  }
  const points = detail.locations.map((location) => location.number)
  for (const point of points.slice(0, 1600)) await record(point)

  // Interleaved, so that whatever else the disk does meets all three alike.
  const bare = openBare((await api.files.saveCopy({ path: path.join(folder, 'bare.facegrid') })).path)
  const times = { record: [] as number[], call: [] as number[], bare: [] as number[], oneRow: [] as number[] }
  for (const point of points.slice(1600, 2600)) {
    const { atEngine: recorded, call } = await record(point)
    times.record.push(recorded)
    times.call.push(call)
    times.bare.push(bare.twoRows(point))
    times.oneRow.push(bare.oneRow())
  }
  bare.close()
  port1.close()
  await engine.close()
  return { recordMs: median(times.record), callMs: median(times.call), bareMs: median(times.bare), oneRowMs: median(times.oneRow) }
}

/** Bare prepared statements on a copy of the project: the rows that a recording writes, no validation, no message, no answer. */
function openBare(file: string) {
  const db = new Database(file)
  db.pragma('journal_mode = WAL')
  db.pragma('synchronous = FULL')
  db.pragma('foreign_keys = ON')
  db.exec('CREATE TABLE IF NOT EXISTS one_row (id INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT')
  // Columns are copied from rows that the engine itself wrote, so the bare rows are as wide and touch the same indexes.
  const reading = db.prepare('SELECT * FROM reading WHERE void_entry_id IS NULL ORDER BY id DESC LIMIT 1').get() as Record<string, unknown>
  const entry = db.prepare('SELECT * FROM audit_entry ORDER BY id DESC LIMIT 1').get() as Record<string, unknown>
  const insert = (table: string, row: Record<string, unknown>) =>
    db.prepare(
      `INSERT INTO ${table} (${Object.keys(row).join(', ')}) VALUES (${Object.keys(row)
        .map((name) => `@${name}`)
        .join(', ')})`,
    )
  const insertReading = insert('reading', reading)
  const insertEntry = insert('audit_entry', entry)
  const locations = db.prepare('SELECT id FROM location WHERE run_id = ? ORDER BY number').pluck().all(reading.run_id) as number[]
  const oneRow = db.prepare('INSERT INTO one_row (text) VALUES (?)')
  let readingNumber = 1_000_000
  let entryNumber = 1_000_000
  let sample = 2
  const write = db.transaction((point: number) => {
    readingNumber += 1
    entryNumber += 1
    const entryId = insertEntry.run({
      ...entry,
      id: entryNumber,
      number: entryNumber,
      command_uuid: Buffer.from(v7().replaceAll('-', ''), 'hex'),
    }).lastInsertRowid
    insertReading.run({
      ...reading,
      id: readingNumber,
      number: readingNumber,
      location_id: locations[point - 1] ?? locations[0],
      sample,
      entry_id: entryId,
    })
  })
  return {
    twoRows: (point: number): number => {
      if (point === 1) sample += 1
      const start = performance.now()
      write.immediate(point)
      return performance.now() - start
    },
    oneRow: (): number => {
      const start = performance.now()
      oneRow.run('x')
      return performance.now() - start
    },
    close: () => db.close(),
  }
}
