import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { electronBinary } from '../electron/electron-binary.ts'

/**
 * `npm test`: lint and layers, types, the production build, unit to fault tests, end-to-end specs. Long output goes to test-results/;
 * what could not run on this machine is listed by name, never counted as passed. The last line is "N passed, N failed".
 */
const TOP = path.resolve(import.meta.dirname, '..')
const RESULTS = path.join(TOP, 'test-results')
mkdirSync(RESULTS, { recursive: true })

let passed = 0
let failed = 0
const notRun: string[] = []

function step(name: string, command: string, parameters: string[], env: Record<string, string> = {}): boolean {
  const started = performance.now()
  const done = spawnSync(command, parameters, {
    cwd: TOP,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    env: { ...process.env, NO_COLOR: '1', ...env },
  })
  const log = path.join(RESULTS, `${name.replaceAll(/[^a-z0-9]+/gi, '-')}.log`)
  writeFileSync(log, `${done.stdout ?? ''}\n${done.stderr ?? ''}`)
  const seconds = ((performance.now() - started) / 1000).toFixed(1)
  const sound = done.status === 0
  process.stdout.write(`${sound ? 'ok    ' : 'FAILED'}  ${name}  (${seconds} s)\n`)
  if (!sound)
    process.stdout.write(
      `${tail(`${done.stdout ?? ''}\n${done.stderr ?? ''}\n${done.error?.message ?? ''}`)}\n(whole output: test-results/${path.basename(log)})\n`,
    )
  return sound
}

function tail(text: string): string {
  return text.trimEnd().split('\n').slice(-80).join('\n')
}

/** A step that is one check of its own. */
function check(name: string, command: string, parameters: string[]): void {
  if (step(name, command, parameters)) passed += 1
  else failed += 1
}

type VitestReport = {
  numPassedTests: number
  numFailedTests: number
  numFailedTestSuites: number
  numPendingTests: number
  success: boolean
}
type PlaywrightReport = { stats: { expected: number; unexpected: number; flaky: number; skipped: number } }

function report<T>(file: string): T | null {
  // Both runners' reports are written by them a moment ago in the shape named at the call.
  return existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as T) : null
}

check('lint and layers', 'biome', ['ci', '--colors=off', '.'])
for (const layer of ['core', 'electron', 'renderer', '.'])
  check(`types of ${layer === '.' ? 'tests and tools' : layer}`, 'tsc', ['-p', layer])
check('production build', 'npm', ['run', '-s', 'build'])

const unitReport = path.join(RESULTS, 'unit.json')
const unitSound = step('unit, reference, project file and fault tests', 'vitest', [
  'run',
  '--reporter=default',
  '--reporter=json',
  `--outputFile=${unitReport}`,
])
const unit = report<VitestReport>(unitReport)
passed += unit?.numPassedTests ?? 0
failed += unit ? unit.numFailedTests + (unit.success ? 0 : unit.numFailedTests === 0 ? 1 : 0) : 1
if (!unitSound && unit?.success) failed += 1
if (unit && unit.numPendingTests > 0) notRun.push(`${unit.numPendingTests} unit tests that say themselves what they lack (see the log)`)

const e2eReport = path.join(RESULTS, 'e2e.json')
const e2eSound = step('end-to-end specs', 'playwright', ['test', '--reporter=list,json'], { PLAYWRIGHT_JSON_OUTPUT_NAME: e2eReport })
const e2e = report<PlaywrightReport>(e2eReport)
passed += e2e?.stats.expected ?? 0
failed += e2e ? e2e.stats.unexpected + e2e.stats.flaky : 1
if (!e2eSound && e2e && e2e.stats.unexpected + e2e.stats.flaky === 0) failed += 1
if (e2e && e2e.stats.skipped > 0) notRun.push(`${e2e.stats.skipped} end-to-end specs that do not apply to a host`)

if (!electronBinary(TOP))
  notRun.push("the end-to-end specs on the desktop host: Electron's own binary is not installed here (npm run desktop:install)")
if (spawnSync('strace', ['-V']).status !== 0) notRun.push('the trace of system calls: strace is not installed here')
notRun.push('hundreds of kills: npm run test:kills', 'benchmarks: npm run bench')

process.stdout.write(`\nNot run here:\n${notRun.map((line) => `  - ${line}\n`).join('')}\n`)
process.stdout.write(`${passed} passed, ${failed} failed\n`)
process.exit(failed > 0 ? 1 : 0)
