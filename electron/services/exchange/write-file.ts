import { closeSync, fsyncSync, openSync, rmSync, statSync, writeSync } from 'node:fs'
import path from 'node:path'
import { inWordsOfFolder, nameFinished, refuseUnusableTarget } from '../../project-file/create.ts'
import { syncFolder } from '../../project-file/durable.ts'
import type { Stores } from '../../project-file/stores.ts'
import { fullExchange } from './full-export.ts'

const WRITE_CHARACTERS = 1 << 20

export type WriteOptions = {
  readonly uniqueName: string
  /** told now and then how many characters are written; answering false stops the work */
  readonly goesOn?: (characters: number) => boolean
}

/** Writes the full exchange form into a new file: under a temporary name, synced, then named. Answers null when it was stopped. */
export function writeExchange(stores: Stores, target: string, options: WriteOptions): { path: string; bytes: number } | null {
  refuseUnusableTarget(target)
  const temporary = path.join(path.dirname(target), `.${path.basename(target)}.${options.uniqueName}.new`)
  try {
    if (!writeTo(temporary, stores, options)) return null
    nameFinished(temporary, target)
    syncFolder(path.dirname(target))
    return { path: target, bytes: statSync(target).size }
  } catch (error) {
    throw inWordsOfFolder(error, target)
  } finally {
    rmSync(temporary, { force: true })
  }
}

function writeTo(temporary: string, stores: Stores, { goesOn }: WriteOptions): boolean {
  const handle = openSync(temporary, 'wx')
  try {
    return stores.reading(() => {
      let waiting = ''
      let written = 0
      for (const part of fullExchange(stores)) {
        waiting += part
        if (waiting.length < WRITE_CHARACTERS) continue
        writeSync(handle, waiting)
        written += waiting.length
        waiting = ''
        if (goesOn && !goesOn(written)) return false
      }
      writeSync(handle, waiting)
      fsyncSync(handle)
      return true
    })
  } finally {
    closeSync(handle)
  }
}
