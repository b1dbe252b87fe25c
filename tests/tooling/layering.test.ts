import { spawnSync } from 'node:child_process'
import { rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { z } from 'zod'

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

const Report = z.object({
  summary: z.object({ unchanged: z.number() }),
  diagnostics: z.array(z.object({ severity: z.string(), location: z.object({ path: z.string() }) })),
})

describe('layers', () => {
  const samples = CASES.flatMap(({ layer, flags, allows }) =>
    [...flags.map((source) => ({ source, refused: true })), ...allows.map((source) => ({ source, refused: false }))].map(
      (sample, index) => ({
        ...sample,
        layer,
        path: `${layer}/layering-sample-${process.pid}-${index}.${sample.source.includes('<p>') ? 'tsx' : 'ts'}`,
      }),
    ),
  )
  const reported = new Set<string>()
  // One run of the linter over all of them: most of its time goes into getting to know the project.
  beforeAll(() => {
    for (const { path: file, source } of samples) writeFileSync(path.join(TOP, file), source)
    const linter = path.join(TOP, 'node_modules/.bin/biome')
    const asked = ['lint', '--reporter=json', '--max-diagnostics=none', ...samples.map((sample) => sample.path)]
    const { stdout } = spawnSync(linter, asked, { cwd: TOP, encoding: 'utf8' })
    const { summary, diagnostics } = Report.parse(JSON.parse(stdout))
    expect(summary.unchanged).toBe(samples.length)
    for (const { severity, location } of diagnostics) if (severity === 'error') reported.add(location.path)
  })
  afterAll(() => {
    for (const { path: file } of samples) rmSync(path.join(TOP, file), { force: true })
  })
  it.each(samples)('$layer, refused $refused: $source', ({ path: file, refused }) => expect(reported.has(file)).toBe(refused))
})
