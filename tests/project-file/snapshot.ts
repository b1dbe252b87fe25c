import { readdirSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'

/** Every file of a folder with its bytes and times, for "nothing changed on disk". */
export function snapshot(folder: string): Record<string, string> {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()
  return Object.fromEntries(
    names.map((name) => {
      const stat = statSync(join(folder, name))
      return [name, stat.isDirectory() ? 'folder' : `${stat.mtimeMs} ${readFileSync(join(folder, name)).toString('base64')}`]
    }),
  )
}
