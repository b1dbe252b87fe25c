import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'

/** The desktop host's own binary, which npm does not carry: null where it is not installed. */
export function electronBinary(top: string): string | null {
  const folder = path.join(top, 'node_modules/electron')
  const pointer = path.join(folder, 'path.txt')
  if (!existsSync(pointer)) return null
  const binary = path.join(folder, 'dist', readFileSync(pointer, 'utf8').trim())
  return existsSync(binary) ? binary : null
}
