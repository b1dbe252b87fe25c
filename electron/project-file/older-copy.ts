import { existsSync, rmSync } from 'node:fs'
import { basename, dirname, extname, join } from 'node:path'
import type { Database } from 'better-sqlite3'
import { nameFinished } from './create.ts'
import { syncFile, syncFolder } from './durable.ts'

/** Keeps a whole copy of a file of an older step beside it, before it is brought up to date. Answers the copy's path. */
export function keepOlder(db: Database, path: string, step: number, uniqueName: string): string {
  const folder = dirname(path)
  const ending = extname(path)
  const stem = `${basename(path, ending)} (file step ${step})`
  const temporary = join(folder, `.${stem}.${uniqueName}.new`)
  try {
    db.prepare('VACUUM INTO ?').run(temporary)
    syncFile(temporary)
    const copy = freeName(folder, stem, ending)
    nameFinished(temporary, copy)
    syncFolder(folder)
    return copy
  } finally {
    rmSync(temporary, { force: true })
  }
}

export function freeName(folder: string, stem: string, ending: string): string {
  for (let number = 1; ; number += 1) {
    const candidate = join(folder, `${stem}${number === 1 ? '' : ` ${number}`}${ending}`)
    if (!existsSync(candidate)) return candidate
  }
}
