import { execFileSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import path from 'node:path'

/** The test command builds before it tests; a single test file run by hand builds when nothing has been built yet. */
export function productionBuild(top: string): void {
  const parts = ['dist/renderer/index.html', 'dist/electron/main.js', 'dist/electron/preload.cjs', 'dist/electron/cli.js']
  if (parts.every((part) => existsSync(path.join(top, part)))) return
  execFileSync('npm', ['run', '-s', 'build'], { cwd: top, stdio: 'inherit' })
}
