import { closeSync, fsyncSync, openSync } from 'node:fs'

/** Waits until a finished file is on the disk. Never for a file that SQLite has open in this process. */
export function syncFile(path: string): void {
  const descriptor = openSync(path, 'r+')
  try {
    fsyncSync(descriptor)
  } finally {
    closeSync(descriptor)
  }
}

/** Waits until the names in a folder are on the disk. Windows has no such call and keeps names with its own journal. */
export function syncFolder(path: string): void {
  if (process.platform === 'win32') return
  const descriptor = openSync(path, 'r')
  try {
    fsyncSync(descriptor)
  } finally {
    closeSync(descriptor)
  }
}
