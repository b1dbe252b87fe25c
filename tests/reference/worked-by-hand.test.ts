import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { ShortExchange } from '#core/model/exchange.ts'
import { facegrid } from '#tests/services/command-line.ts'

/*
 * The whole job through the headless host, on an exchange file written by hand (worked-example.exchange.json beside this file). Every
 * figure below is worked from first principles on paper: mean, sample standard deviation (n - 1), flow = mean x effective area,
 * air changes = 3600 x supply / volume (domain rules A1). Units: 1 ft/min = 0.00508 m/s exactly (NIST SP 811, B.8).
 */
const FIXTURE = new URL('./worked-example.exchange.json', import.meta.url)

const Criterion = z
  .object({ key: z.string(), verdict: z.string(), would: z.string().nullable(), reason: z.object({ text: z.string() }) })
  .loose()
const Filter = z.object({ tag: z.string(), verdict: z.string(), criteria: z.array(Criterion) }).catchall(z.unknown())
const Result = z.object({
  filters: z.array(Filter),
  zones: z.array(z.object({ criteria: z.array(Criterion) }).loose()),
  room: z.record(z.string(), z.unknown()),
  roomCriteria: z.array(Criterion),
})
const Evaluated = z.object({
  verdict: z.string(),
  basis: z.string(),
  exitStatus: z.number(),
  counts: z.record(z.string(), z.number()),
  certifications: z.array(
    z.object({
      name: z.string(),
      rooms: z.array(z.object({ number: z.string(), verdict: z.string(), runs: z.array(z.object({ result: Result })) })),
    }),
  ),
})

function readFixture(): z.infer<typeof ShortExchange> {
  return ShortExchange.parse(JSON.parse(readFileSync(FIXTURE, 'utf8')))
}

/** Imports a form, evaluates it and answers what was printed as JSON. */
async function evaluated(form: unknown) {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-by-hand-'))
  writeFileSync(path.join(folder, 'form.json'), JSON.stringify(form))
  const imported = await facegrid(folder, 'import', 'form.json', 'site.facegrid')
  expect(imported.error).toBe('')
  const answer = await facegrid(folder, 'evaluate', 'site.facegrid', '--json')
  return { status: answer.status, said: Evaluated.parse(JSON.parse(answer.out)), folder }
}

let status: number
let said: z.infer<typeof Evaluated>
let folder: string
beforeAll(async () => {
  const answer = await evaluated(JSON.parse(readFileSync(FIXTURE, 'utf8')))
  status = answer.status
  said = answer.said
  folder = answer.folder
})

function result(number: string): z.infer<typeof Result> {
  const found = said.certifications[0]?.rooms.find((room) => room.number === number)?.runs[0]?.result
  if (!found) throw new Error(`no result of ${number}`)
  return found
}
const close = (value: number) => expect.closeTo(value, 9)

describe('M-101, mixed air, 5 m x 4 m x 3.0 m = 60 m3', () => {
  test('the first filter, in m/s: 0.44 0.46 0.45 0.47', () => {
    // Mean: 1.82 / 4 = 0.455. Deviations -0.015 0.005 -0.005 0.015, squares 225 + 25 + 25 + 225 = 500 (1e-6).
    // s = sqrt(500e-6 / 3) = 0.012909944. RSD = 100 s / 0.455 = 2.837350 %. Largest deviation 0.015 / 0.455 = 3.296703 %.
    // Flow: 0.455 x 0.36 = 0.1638 m3/s. Design 600 m3/h = 1/6 m3/s: 100 x 0.1638 x 6 = 98.28 %.
    expect(result('M-101').filters[0]).toMatchObject({
      tag: 'M-101/1',
      pointsMeasured: 4,
      meanVelocityMps: close(0.455),
      leastVelocityMps: close(0.44),
      greatestVelocityMps: close(0.47),
      standardDeviationMps: expect.closeTo(0.012909944, 8),
      relativeStandardDeviationPercent: expect.closeTo(2.83735, 5),
      largestDeviationPercent: expect.closeTo(3.296703, 5),
      flowM3ps: close(0.1638),
      percentOfDesign: close(98.28),
      verdict: 'pass',
    })
  })

  test('the second filter, in ft/min: 90 92 88 94', () => {
    // Mean 364 / 4 = 91 ft/min x 0.00508 = 0.46228 m/s. Flow 0.46228 x 0.36 = 0.1664208 m3/s, 99.85248 % of 1/6 m3/s.
    // Deviations -1 1 -3 3 ft/min: s = sqrt(20 / 3) = 2.5819889 ft/min = 0.013116504 m/s.
    expect(result('M-101').filters[1]).toMatchObject({
      meanVelocityMps: close(0.46228),
      standardDeviationMps: expect.closeTo(0.013116504, 8),
      flowM3ps: close(0.1664208),
      percentOfDesign: close(99.85248),
      verdict: 'pass',
    })
  })

  test('the room: supply, air changes, verdicts and margins', () => {
    // 0.1638 + 0.1664208 = 0.3302208 m3/s; 3600 x 0.3302208 / 60 = 19.813248 per hour; design 1200 m3/h = 1/3 m3/s: 99.06624 %.
    // Area-weighted mean 0.3302208 / 0.72 = 0.45864 m/s.
    const { room, roomCriteria } = result('M-101')
    expect(room).toMatchObject({
      volumeM3: close(60),
      supplyFlowM3ps: close(0.3302208),
      airChangesPerHour: close(19.813248),
      areaWeightedMeanVelocityMps: close(0.45864),
      percentOfDesign: close(99.06624),
    })
    const [airChanges, supply] = roomCriteria
    // Limit: the room's required minimum of 20 per hour; margin 19.813248 - 20.
    expect(airChanges).toMatchObject({ key: 'air_changes', valuePerHour: close(19.813248), lowPerHour: 20, verdict: 'fail' })
    expect(airChanges).toMatchObject({ marginPerHour: close(-0.186752) })
    // Within 10 % of 1/3 m3/s: 0.3 to 0.36666667; nearest limit 0.3, margin 0.0302208.
    expect(supply).toMatchObject({ key: 'room_supply', lowM3ps: close(0.3), marginM3ps: close(0.0302208), verdict: 'pass' })
    expect(airChanges?.reason.text).toContain('at least 20')
  })
})

describe('M-102, unidirectional air, design velocity 0.45 m/s', () => {
  test('a filter at 0.35 m/s is below 80 % of design and fails', () => {
    // 0.40 0.42 0.44 0.42: mean 0.42, inside 0.36 to 0.54. 0.34 0.35 0.36 0.35: mean 0.35, below 0.36 by 0.01.
    const [first, second] = result('M-102').filters
    expect(first).toMatchObject({ meanVelocityMps: close(0.42), verdict: 'pass' })
    expect(second).toMatchObject({ meanVelocityMps: close(0.35), percentOfDesign: expect.closeTo(77.777778, 5), verdict: 'fail' })
    expect(second?.criteria[0]).toMatchObject({ lowMps: close(0.36), highMps: close(0.54), marginMps: close(-0.01) })
  })

  test('the area over both filters: mean and spread of its eight points', () => {
    // Mean (0.42 + 0.35) / 2 = 0.385. Squares of deviations in 1e-6: 225 + 1225 + 3025 + 1225 + 2025 + 1225 + 625 + 1225 = 10800.
    // s = sqrt(10800e-6 / 7) = 0.039279220; RSD = 100 s / 0.385 = 10.202395 %, at most 15 %.
    const [zone] = result('M-102').zones
    expect(zone).toMatchObject({ meanVelocityMps: close(0.385), relativeStandardDeviationPercent: expect.closeTo(10.202395, 5) })
    expect(zone?.criteria.map(({ key, verdict }) => [key, verdict])).toEqual([
      ['zone_mean', 'pass'],
      ['zone_spread', 'pass'],
    ])
  })
})

describe('exit status', () => {
  test('1 when something fails', () => {
    expect({ status, exitStatus: said.exitStatus, verdict: said.verdict, basis: said.basis }).toEqual({
      status: 1,
      exitStatus: 1,
      verdict: 'fail',
      basis: 'as_indicated',
    })
    // Per filter one criterion (4), two on M-101, two on the area of M-102: eight, two of them failed.
    expect(said.counts).toMatchObject({ pass: 6, fail: 2, not_tested: 0, not_valid: 0, inconclusive: 0 })
  })

  test('0 when everything passes', async () => {
    const form = readFixture()
    // 18 per hour is required instead of 20, and the slow filter blows 0.45 m/s.
    for (const entity of form.entities) if (entity.body.number === 'M-101') entity.body.requiredAirChangesPerHour = 18
    for (const reading of form.runs[1]?.readings ?? []) if (reading.terminal === 'M-102/2') reading.typed = '0.45'
    expect(await evaluated(form)).toMatchObject({ status: 0, said: { verdict: 'pass' } })
  })

  test('3 when nothing fails but a filter was not measured', async () => {
    const form = readFixture()
    const run = form.runs[1]
    if (!run) throw new Error('no second run')
    for (const entity of form.entities) if (entity.body.number === 'M-101') entity.body.requiredAirChangesPerHour = 18
    run.readings = run.readings.filter(({ terminal }) => terminal === 'M-102/1')
    run.complete = false
    expect(await evaluated(form)).toMatchObject({ status: 3, said: { verdict: 'not_tested' } })
  })

  test('3 when the instrument was past due', async () => {
    const form = readFixture()
    for (const entity of form.entities) {
      if (entity.body.number === 'M-101') entity.body.requiredAirChangesPerHour = 18
      if (entity.kind === 'calibration') entity.body.dueOn = '2026-03-01'
    }
    for (const reading of form.runs[1]?.readings ?? []) if (reading.terminal === 'M-102/2') reading.typed = '0.45'
    expect(await evaluated(form)).toMatchObject({ status: 3, said: { verdict: 'not_valid' } })
  })

  test('2 for an error, in words', async () => {
    const answer = await facegrid(folder, 'evaluate', 'nothing-here.facegrid')
    expect(answer).toMatchObject({ status: 2, out: '' })
    expect(answer.error).toContain('nothing-here.facegrid')
  })

  test('check finds the imported file sound', async () => {
    expect(await facegrid(folder, 'check', 'site.facegrid', '--json')).toMatchObject({ status: 0 })
  })
})

describe('the example that DEVELOPERS.md prints: one filter in a room of 3 m x 4 m x 2.5 m = 30 m3', () => {
  test('its figures and its exit status', async () => {
    // 90 ft/min x 0.00508 = 0.4572 m/s. Mean (0.44 + 0.46 + 0.45 + 0.4572) / 4 = 1.8072 / 4 = 0.4518 m/s.
    // Flow 0.4518 x 0.36 = 0.162648 m3/s. Air changes 3600 x 0.162648 / 30 = 19.51776 per hour; required 15, margin 4.51776.
    const example = await evaluated(JSON.parse(readFileSync(new URL('./one-filter.exchange.json', import.meta.url), 'utf8')))
    const [run] = example.said.certifications[0]?.rooms[0]?.runs ?? []
    expect(run?.result.filters[0]).toMatchObject({ meanVelocityMps: close(0.4518), flowM3ps: close(0.162648) })
    expect(run?.result.room).toMatchObject({ volumeM3: close(30), airChangesPerHour: close(19.51776) })
    expect(run?.result.roomCriteria[0]).toMatchObject({ lowPerHour: 15, marginPerHour: close(4.51776), verdict: 'pass' })
    expect(example.status).toBe(0)
  })
})
