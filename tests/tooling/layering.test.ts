import { spawnSync } from 'node:child_process'
import { mkdirSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { afterEach, describe, expect, it } from 'vitest'

const TOP = path.resolve(import.meta.dirname, '../..')

/** Each forbidden import, written into a file of the layer, must be reported; its allowed neighbour must not. */
const CASES: { layer: string; flags: string[]; allows: string[] }[] = [
  {
    layer: 'core/units',
    flags: [
      "import { readFileSync } from 'node:fs'\nexport const text = readFileSync",
      "import { createEngine } from '#electron/engine.ts'\nexport const made = createEngine",
      "import { createEngine } from '../../electron/engine.ts'\nexport const made = createEngine",
      "import { api } from '#renderer/app/client.ts'\nexport const used = api",
      "import { sql } from 'kysely'\nexport const used = sql",
      'export const title = document.title',
    ],
    allows: ["import { Unit } from '#core/model/values.ts'\nexport const used = Unit"],
  },
  {
    layer: 'renderer/ui',
    flags: [
      "import { createEngine } from '#electron/engine.ts'\nexport const made = createEngine",
      "import Database from 'better-sqlite3'\nexport const made = Database",
      "import { join } from 'node:path'\nexport const used = join",
      'export const Sample = () => <p>Loose words</p>',
    ],
    allows: ["import { Unit } from '#core/model/values.ts'\nexport const used = Unit", 'export const Sample = () => <p>{String(1)}</p>'],
  },
  {
    layer: 'electron/services',
    flags: [
      "import Database from 'better-sqlite3'\nexport const made = Database",
      "import { app } from 'electron'\nexport const used = app",
      "import { startLoopbackServer } from '../loopback-server.ts'\nexport const used = startLoopbackServer",
    ],
    allows: ["import { Unit } from '#core/model/values.ts'\nexport const used = Unit"],
  },
  {
    layer: 'migrations',
    flags: ["import { Unit } from '#core/model/values.ts'\nexport const used = Unit"],
    allows: ["import { sql } from 'kysely'\nexport const used = sql"],
  },
]

describe('layers', () => {
  const written: string[] = []
  afterEach(() => {
    for (const file of written.splice(0)) rmSync(file, { force: true })
  })
  const lint = (layer: string, source: string): number | null => {
    const extension = source.includes('<p>') ? 'tsx' : 'ts'
    const file = path.join(TOP, layer, `layering-sample-${process.pid}.${extension}`)
    mkdirSync(path.dirname(file), { recursive: true })
    writeFileSync(file, source)
    written.push(file)
    return spawnSync(path.join(TOP, 'node_modules/.bin/biome'), ['lint', file], { cwd: TOP }).status
  }
  for (const { layer, flags, allows } of CASES) {
    for (const source of flags) it(`${layer} is refused: ${source.split('\n')[0]}`, () => expect(lint(layer, source)).not.toBe(0))
    for (const source of allows) it(`${layer} may: ${source.split('\n')[0]}`, () => expect(lint(layer, source)).toBe(0))
  }
})
