import type { Database } from 'better-sqlite3'
import { schemaDifferences } from '../soundness.ts'
import type { Findings } from './findings.ts'

/** Every page, index, type and link of the file, and its structure against our own schema steps. */
export function checkStorage(db: Database, findings: Findings): void {
  const before = findings.problems
  for (const detail of db.prepare<[], string>('PRAGMA integrity_check(20)').pluck().all()) {
    if (detail !== 'ok') findings.problem('check.storage_damaged', { detail })
  }
  const broken = new Map<string, { table: string; target: string; rows: number }>()
  for (const { table, parent } of db.prepare<[], { table: string; parent: string }>('PRAGMA foreign_key_check').iterate()) {
    const link = broken.get(`${table} ${parent}`) ?? { table, target: parent, rows: 0 }
    broken.set(`${table} ${parent}`, { ...link, rows: link.rows + 1 })
  }
  for (const link of broken.values()) findings.problem('check.link_broken', link)
  const names = schemaDifferences(db)
  if (names.length > 0) findings.problem('check.structure_differs', { names: names.join(', ') })
  if (findings.problems === before) findings.ok('check.storage_ok', {})
}
