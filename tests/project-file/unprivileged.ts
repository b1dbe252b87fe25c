import { chmodSync } from 'node:fs'

const NOBODY = 65534

/**
 * Runs `work` as someone whom permission bits bind. The machine's administrator may write anywhere, so when the tests run as that, the
 * effective user is changed meanwhile.
 */
export function asUnprivileged<T>(folder: string, work: () => T): T {
  const administrator = process.getuid?.() === 0
  if (administrator) process.seteuid?.(NOBODY)
  try {
    return work()
  } finally {
    if (administrator) process.seteuid?.(0)
    chmodSync(folder, 0o755)
  }
}
