import path from 'node:path'
import type { ContractRouterClient } from '@orpc/contract'
import { createRouterClient } from '@orpc/server'
import Database from 'better-sqlite3'
import type { Contract } from '#core/api/contract.ts'
import { median } from './disk.ts'
import { benchEngine, type LargeProject } from './large-project.ts'

/**
 * Evaluating one certification from file to verdicts, with the disposable cache emptied before each round, and comparing two. Baseline:
 * better-sqlite3 reads the same locations and values of that certification in raw mode.
 */
export async function benchEvaluating(project: LargeProject): Promise<{ evaluateMs: number; rawMs: number; compareMs: number }> {
  const [thenId, nowId] = project.certificationIds.slice(-2)
  if (!thenId || !nowId) throw new Error('Two certifications are needed.')
  const times = { evaluate: [] as number[], raw: [] as number[], compare: [] as number[] }
  for (let round = 0; round < 7; round += 1) {
    emptyCache(project.path)
    times.raw.push(readRaw(project.path, nowId))
    times.evaluate.push(await timed(project.path, async (api) => void (await api.evaluation.certification({ certificationId: nowId }))))
    emptyCache(project.path)
    times.compare.push(await timed(project.path, async (api) => void (await api.compare.certifications({ thenId, nowId, roomId: null }))))
  }
  return { evaluateMs: median(times.evaluate), rawMs: median(times.raw), compareMs: median(times.compare) }
}

/** Milliseconds that a use of the opened file takes, opening and closing left out. */
export async function timed(file: string, use: (api: ContractRouterClient<Contract>) => Promise<void>): Promise<number> {
  const engine = benchEngine(path.dirname(file))
  const api = createRouterClient(engine.router)
  await api.files.open({ path: file, readOnly: false })
  const start = performance.now()
  await use(api)
  const elapsed = performance.now() - start
  await engine.close()
  return elapsed
}

/** Throws the disposable results in the file away. */
export function emptyCache(file: string): void {
  const db = new Database(file)
  db.exec('DELETE FROM result_cache')
  db.close()
}

/** The baseline: every point of the certification's runs with the value in force there, in raw mode, and nothing else. */
function readRaw(file: string, certificationId: string): number {
  const db = new Database(file, { readonly: true })
  const statement = db
    .prepare(
      `SELECT l.run_id, l.terminal_id, l.number, l.row_number, l.column_number, l.cell_area_m2, r.sample, r.si, r.flags
       FROM entity c JOIN entity run ON run.parent_id = c.id AND run.kind = 'run'
       JOIN location l ON l.run_id = run.id
       LEFT JOIN reading r ON r.run_id = l.run_id AND r.location_id = l.id AND r.void_entry_id IS NULL
       WHERE c.uuid = ?`,
    )
    .raw()
  const start = performance.now()
  const rows = statement.all(Buffer.from(certificationId.replaceAll('-', ''), 'hex'))
  const elapsed = performance.now() - start
  db.close()
  if (rows.length < 1000) throw new Error(`The baseline read only ${rows.length} rows.`)
  return elapsed
}
