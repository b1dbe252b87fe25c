import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import Database from 'better-sqlite3'
import { expect, it } from 'vitest'
import { migrate, stepOf } from '#electron/project-file/migrate.ts'
import { schemaOf } from '#electron/project-file/soundness.ts'
import { STEPS } from '#migrations/index.ts'

it('are numbered from 1 without a gap, and every file in the folder is one of them', () => {
  expect(STEPS.map((step) => step.number)).toEqual(STEPS.map((_step, index) => index + 1))
  const folder = fileURLToPath(new URL('../../migrations', import.meta.url))
  const files = readdirSync(folder)
    .filter((name) => /^\d/.test(name))
    .sort()
  expect(files).toEqual(STEPS.map((step) => `${String(step.number).padStart(4, '0')}-${step.title}.ts`))
})

it('give the same schema at once and one by one', () => {
  const atOnce = new Database(':memory:')
  migrate(atOnce)
  const oneByOne = new Database(':memory:')
  for (const step of STEPS) {
    migrate(oneByOne, step.number)
    expect(stepOf(oneByOne)).toBe(step.number)
  }
  expect(schemaOf(oneByOne)).toEqual(schemaOf(atOnce))
})
