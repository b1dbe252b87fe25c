import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { expect, test } from 'vitest'
import { facegrid } from './command-line.ts'

/** What the short form says of the air beyond one room: planes, carried terminals, units of flows. Figures of the base file are worked in its own test. */
const ROOM = new URL('../reference/room-in-full.exchange.json', import.meta.url)
const id = (number: number) => `01940000-0000-7000-8000-${String(number).padStart(12, '0')}`

type Run = { [key: string]: unknown; readings: { [key: string]: unknown }[] }
type Form = { entities: unknown[]; runs: Run[] }
type Filter = { tag: string; carried: boolean; flowM3ps: number }
type Zone = { meanVelocityMps: number; planeCells: unknown[] }
type Said = { certifications: { rooms: { runs: { phase: string; current: boolean; result: { filters: Filter[]; zones: Zone[] } }[] }[] }[] }

function form(change: (runs: Run[], first: Run) => void): Form {
  const read = JSON.parse(readFileSync(ROOM, 'utf8')) as Form
  const [first] = read.runs
  if (!first) throw new Error('the file has a run')
  change(read.runs, first)
  return read
}

async function evaluated(written: Form) {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-air-'))
  writeFileSync(path.join(folder, 'form.json'), JSON.stringify(written))
  const { error } = await facegrid(folder, 'import', 'form.json', 'site.facegrid')
  if (error !== '') return { error, runs: [] }
  const { out } = await facegrid(folder, 'evaluate', 'site.facegrid', '--json')
  return { error, runs: (JSON.parse(out) as Said).certifications[0]?.rooms[0]?.runs ?? [] }
}

const asLeft = (first: Run, carried: unknown[]): Run => ({
  ...first,
  id: id(30),
  phase: 'as_left',
  at: '2026-03-02T12:00:00.000Z',
  carried,
  readings: first.readings.filter(({ terminal }) => terminal === 'H-1/1').map((reading) => ({ ...reading, typed: '0.44' })),
})
const CARRIED = {
  terminals: ['H-1/2', 'H-1/R1', 'H-1/X1'],
  fromRunId: id(20),
  reason: 'Only the damper of H-1/1 was moved.',
  fanOrMainDamperMoved: false,
}

test('an as-left run carries terminals from the run as found, by their tags', async () => {
  const { error, runs } = await evaluated(form((all, first) => all.push(asLeft(first, [CARRIED]))))
  expect(error).toBe('')
  const [found, left] = ['as_found', 'as_left'].map((phase) => runs.find((run) => run.phase === phase)?.result.filters ?? [])
  expect(left?.map(({ tag, carried }) => [tag, carried])).toEqual([
    ['H-1/1', false],
    ['H-1/2', true],
    ['H-1/R1', true],
    ['H-1/X1', true],
  ])
  // 0.44 where 0.42 stood on average: the flow is that much more; what is carried is the same.
  expect((left?.[0]?.flowM3ps ?? 0) / (found?.[0]?.flowM3ps ?? 1)).toBeCloseTo(0.44 / 0.42, 9)
  for (const index of [1, 2, 3]) expect(left?.[index]?.flowM3ps).toBeCloseTo(found?.[index]?.flowM3ps ?? Number.NaN, 12)
})

test('a terminal that is neither measured nor carried, or a tag that is not there, is named', async () => {
  const without = await evaluated(form((all, first) => all.push(asLeft(first, [{ ...CARRIED, terminals: ['H-1/2', 'H-1/R1'] }]))))
  expect(without.error).toContain('H-1/X1')
  const { fanOrMainDamperMoved: _asked, ...NOT_ASKED } = CARRIED
  const notAsked = await evaluated(form((all, first) => all.push(asLeft(first, [NOT_ASKED]))))
  expect(notAsked.error).toContain('Say whether the fan or a main damper was moved')
  const unknown = await evaluated(form((all, first) => all.push(asLeft(first, [{ ...CARRIED, terminals: ['H-9'] }]))))
  expect(unknown.error).toContain('$.runs[1].carried[0]')
})

test('points over the plane of a zone name no terminal; a complete run has them all', async () => {
  const withPlane = (typed: string[]) => {
    const written = form((all, first) =>
      all.push({
        ...first,
        id: id(31),
        method: 'plane_velocity_grid',
        zoneId: id(32),
        plane: { kind: 'working_height', heightM: 1.1 },
        planeGrid: { rows: 2, columns: 2 },
        doorPressures: [],
        acceptedMisfits: [],
        grids: [],
        readings: typed.map((value, index) => ({ point: index + 1, typed: value })),
      }),
    )
    const boundary = [
      [1, 1],
      [3, 1],
      [3, 3],
      [1, 3],
    ].map(([x, y]) => ({ x, y }))
    const body = { name: 'Bench', boundary, cleanlinessClass: 'ISO 5', occupancyState: 'at_rest' }
    // A zone stands before its run, as everything that is named.
    written.entities.push({ kind: 'zone', id: id(32), parentId: id(6), body })
    return written
  }
  const { error, runs } = await evaluated(withPlane(['0.40', '0.42', '0.44', '0.42']))
  expect(error).toBe('')
  const plane = runs.find(({ result }) => (result.zones[0]?.planeCells.length ?? 0) > 0)?.result.zones[0]
  expect(plane?.planeCells).toHaveLength(4)
  // As H-1/1 of the base file: 0.42 m/s of standard air at 1600 m is 0.5099359416 m/s.
  expect(plane?.meanVelocityMps).toBeCloseTo(0.5099359416, 9)
  expect((await evaluated(withPlane(['0.40', '0.42', '0.44']))).error).toContain('the plane has 3 of 4 points')
})

test('a flow without a unit is in the run’s unit for flows, and what is read at a point decides', async () => {
  const inLitres = form((_, first) => {
    first.otherUnits = { flow: 'L/s', pressure: 'Pa' }
    for (const reading of first.readings) if (reading.terminal === 'H-1/2') reading.typed = '133.3333333'
    for (const reading of first.readings) if (reading.terminal === 'H-1/R1') reading.typed = '111.1111111'
  })
  const { error, runs } = await evaluated(inLitres)
  expect(error).toBe('')
  // 133.3333333 L/s is 480 m3/h: 0.1570278931 m3/s actual, as worked for the base file.
  expect(runs[0]?.result.filters[1]?.flowM3ps).toBeCloseTo(0.1570278931, 8)
})
