// A process of its own that opens a project through the engine and records readings one after another, each replacing the one before
// at its point. It says on its output when it begins one and when the engine has answered, at that very moment (a plain write).
import { writeSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { createRouterClient, ORPCError } from '@orpc/server'
import { v7 } from 'uuid'
import { createEngine } from '#electron/engine.ts'

const [path = '', runId = '', personId = '', instrumentId = '', points = '0', recordings = '0', host = 'headless'] = process.argv.slice(2)
const tell = (line: string) => writeSync(1, `${line}\n`)

const engine = createEngine({
  // With a screen the engine makes backups meanwhile; without one it does not, and calls can be counted.
  host: host === 'browser' ? 'browser' : 'headless',
  version: '0.0.0-test',
  clock: () => Date.now(),
  uuid: () => v7(),
  settingsFolder: join(dirname(path), 'settings'),
  access: { roots: () => [], allow: (requested) => requested },
})
const client = createRouterClient(engine.router)
await client.files.open({ path })
const standing = new Map(
  (await client.runs.get({ runId })).readings.filter(({ voided }) => voided === null).map(({ point, id }) => [point, id]),
)
tell('ready')
for (let index = 0; index < Number(recordings); index += 1) {
  const point = 1 + (index % Number(points))
  const typed = (0.4 + (index % 10) / 100).toFixed(2)
  tell(`begin ${index}`)
  const input = {
    command: { id: v7(), personId, reason: '' },
    runId,
    instrumentId,
    entries: [{ point, sample: 1, typed, unit: 'm/s' as const, replaces: standing.get(point) ?? null }],
  }
  try {
    const [reading] = await client.readings.record(input)
    tell(`answered ${index} ${reading?.id} ${typed}`)
    if (reading) standing.set(point, reading.id)
  } catch (error) {
    if (!(error instanceof ORPCError)) throw error
    tell(`refused ${index} ${error.code}`)
  }
}
tell('closing')
await engine.close()
tell('closed')
