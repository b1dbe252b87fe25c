import { execFileSync, spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { chromium } from '@playwright/test'

const SYSTEM = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome', '/snap/bin/chromium']

/** Finds a browser: the one named, one already there, playwright's own copy, playwright's install, Debian's package; else a sentence. */
export function findBrowser(): string {
  const named = process.env.FACEGRID_BROWSER
  if (named) {
    if (existsSync(named)) return named
    throw new Error(`FACEGRID_BROWSER names ${named}, and there is no such file.`)
  }
  const present = installed()
  if (present) return present
  spawnSync('npx', ['playwright', 'install', 'chromium'], { stdio: 'ignore', timeout: 300_000 })
  const downloaded = installed()
  if (downloaded) return downloaded
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    execFileSync('apt-get', ['update', '-qq'], { stdio: 'ignore' })
    execFileSync('apt-get', ['install', '-y', '-qq', 'chromium'], { stdio: 'ignore', timeout: 600_000 })
    const packaged = installed()
    if (packaged) return packaged
  }
  throw new Error('No browser for the end-to-end specs. Install Chromium, or name one in FACEGRID_BROWSER.')
}

function installed(): string | null {
  return [...SYSTEM, chromium.executablePath()].find((candidate) => existsSync(candidate)) ?? null
}

/** Chromium's own sandbox refuses to run as root; these options are for tests alone. */
export const TEST_BROWSER_OPTIONS = [
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
  '--force-device-scale-factor=1',
]
