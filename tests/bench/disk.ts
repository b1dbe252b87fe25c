import { closeSync, fdatasyncSync, mkdirSync, mkdtempSync, openSync, rmSync, statfsSync, writeSync } from 'node:fs'
import path from 'node:path'

/** Magic numbers of file systems that live in memory (Linux statfs). */
const MEMORY_FILE_SYSTEMS = new Map([
  [0x01021994, 'tmpfs'],
  [0x858458f6, 'ramfs'],
])

/** A working folder on a real disk, beside the project. A memory file system is refused: syncing costs nothing there. */
export function benchFolder(top: string): string {
  const parent = path.join(top, 'test-results')
  mkdirSync(parent, { recursive: true })
  const kind = MEMORY_FILE_SYSTEMS.get(statfsSync(parent).type)
  if (kind) throw new Error(`${parent} is on ${kind}, which lives in memory: durability cannot be measured there.`)
  return mkdtempSync(path.join(parent, 'bench-'))
}

/** Median time in ms of writing 4 KiB and waiting for the disk. */
export function medianSyncMs(folder: string): number {
  const file = path.join(folder, 'sync')
  const descriptor = openSync(file, 'w')
  const page = Buffer.alloc(4096, 1)
  const times = Array.from({ length: 201 }, () => {
    const start = performance.now()
    writeSync(descriptor, page)
    fdatasyncSync(descriptor)
    return performance.now() - start
  })
  closeSync(descriptor)
  rmSync(file)
  return median(times)
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN
}
