import { createHash } from 'node:crypto'
import { copyFileSync, readdirSync, readFileSync, statSync } from 'node:fs'
import path from 'node:path'
import { afterEach, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { STEPS } from '#migrations/index.ts'
import { type House, startHouse } from '#tests/services/bench-site.ts'
import { facegrid } from '#tests/services/command-line.ts'
import { differences, figuresOf } from './shipped/figures.ts'

/*
 * Project files that schema steps were shipped with. Each has to open in today's program and say what it said then. A file is never made
 * again (its hash stands in expected.json), and its signed figures never change. Where a later calculation is meant to say something else
 * about runs that are not signed, that change of expected.json is made by hand and named in its commit.
 */
const SHIPPED = path.join(import.meta.dirname, 'shipped')
const Expected = z.strictObject({ sha256: z.string(), step: z.number(), figures: z.unknown() })
const steps = readdirSync(SHIPPED).filter((name) => /^\d{4}$/.test(name))

let house: House | null = null
afterEach(async () => {
  await house?.engine.close()
  house = null
})

function taken(step: string): { folder: string; expected: z.infer<typeof Expected> } {
  house = startHouse()
  copyFileSync(path.join(SHIPPED, step, 'site.facegrid'), path.join(house.folder, 'site.facegrid'))
  return { folder: house.folder, expected: Expected.parse(JSON.parse(readFileSync(path.join(SHIPPED, step, 'expected.json'), 'utf8'))) }
}

async function figuresIn(folder: string, file: string): Promise<unknown> {
  const { out, error } = await facegrid(folder, 'evaluate', file, '--all', '--json')
  // A file of an earlier step says that it is one.
  expect(error === '' || error.includes('was written by an older')).toBe(true)
  return figuresOf(JSON.parse(out))
}

test('every schema step that was shipped has its file', () => {
  expect(steps.length).toBeGreaterThan(0)
  expect(steps.map(Number)).toEqual(steps.map((_step, index) => index + 1))
  expect(steps.length).toBeLessThanOrEqual(STEPS.length)
})

describe.each(steps)('the file of step %s', (step) => {
  test('is the one that was shipped, and small', () => {
    const { expected } = taken(step)
    const file = path.join(SHIPPED, step, 'site.facegrid')
    expect(createHash('sha256').update(readFileSync(file)).digest('hex')).toBe(expected.sha256)
    expect(statSync(file).size).toBeLessThan(400_000)
    expect(expected.step).toBe(Number(step))
  })

  test('is found sound as it is, at the step it stands at', async () => {
    const { folder } = taken(step)
    const { out, status } = await facegrid(folder, 'check', 'site.facegrid')
    expect(out).toContain('sound')
    expect(status).toBe(0)
  })

  test("opens for writing in today's program, which brings it up to date, and says the figures it said then", async () => {
    const { folder, expected } = taken(step)
    const opened = await house?.client.files.open({ path: path.join(folder, 'site.facegrid') })
    expect(opened?.readOnly).toBe(false)
    await house?.client.files.close()
    expect(differences(expected.figures, await figuresIn(folder, 'site.facegrid'))).toEqual([])
  })

  test('is found sound, also after it was exported and imported, with the same figures', async () => {
    const { folder, expected } = taken(step)
    await house?.client.files.open({ path: path.join(folder, 'site.facegrid') })
    await house?.client.files.close()
    expect(await facegrid(folder, 'check', 'site.facegrid')).toMatchObject({ status: 0, error: '' })
    expect(await facegrid(folder, 'export', 'site.facegrid', 'site.json')).toMatchObject({ status: 0, error: '' })
    expect(await facegrid(folder, 'import', 'site.json', 'again.facegrid')).toMatchObject({ status: 0, error: '' })
    expect(await facegrid(folder, 'check', 'again.facegrid')).toMatchObject({ status: 0, error: '' })
    expect(differences(expected.figures, await figuresIn(folder, 'again.facegrid'))).toEqual([])
  })

  test('a figure that had moved would be seen', async () => {
    const { folder, expected } = taken(step)
    const text = JSON.stringify(expected.figures)
    const mean = /"meanVelocityMps":(0\.\d+)/.exec(text)?.[1] ?? ''
    const moved = text.replace(`"meanVelocityMps":${mean}`, `"meanVelocityMps":${Number(mean) * (1 + 1e-8)}`)
    await house?.client.files.open({ path: path.join(folder, 'site.facegrid') })
    await house?.client.files.close()
    expect(differences(JSON.parse(moved), await figuresIn(folder, 'site.facegrid'))).toHaveLength(1)
  })
})

/** The head of what is compared; the rest may grow. */
const Told = z.object({
  certifications: z.array(
    z.object({
      name: z.string(),
      rooms: z.array(z.object({ number: z.string(), verdict: z.string(), airChangesPerHour: z.number().nullable() })),
    }),
  ),
})

test('figures of step 0001 that were worked by hand from the readings and plan it holds', async () => {
  const { folder } = taken('0001')
  const { certifications } = Told.parse(await figuresIn(folder, 'site.facegrid'))
  const airChanges = (name: string, number: string) =>
    certifications.find((visit) => visit.name === name)?.rooms.find((room) => room.number === number)?.airChangesPerHour
  // E-11, 5 m x 4 m. 2025, ceiling 3 m: means (0.46 + 0.47 + 0.45 + 0.44) / 4 = 0.455 and (0.42 + 0.45 + 0.44 + 0.46) / 4 = 0.4425 m/s;
  // (0.455 + 0.4425) x 0.32 = 0.2872 m3/s; 3600 x 0.2872 / 60 = 17.232 per hour. The ceiling that was lowered later changes nothing.
  expect(airChanges('Certification 2025', 'E-11')).toBeCloseTo(17.232, 9)
  // 2026 as left, ceiling 2.8 m: means 0.4525 and 0.445 m/s; 0.8975 x 0.32 = 0.2872 m3/s; 3600 x 0.2872 / 56 = 18.462857 per hour.
  expect(airChanges('Certification 2026', 'E-11')).toBeCloseTo(1033.92 / 56, 9)
  // E-13, 8 m x 1.5 m x 3 m = 36 m3, in ft/min: means 89 and 84.5; (89 + 84.5) x 0.00508 x 0.32 = 0.2820416 m3/s; x 3600 / 36.
  expect(airChanges('Certification 2025', 'E-13')).toBeCloseTo(28.20416, 9)
})
