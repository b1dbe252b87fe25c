import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import psychrolib from 'psychrolib'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { facegrid } from '#tests/services/command-line.ts'
import { buildDemo } from '../../demo-data/build.ts'
import { cipmKgpm3 } from './second-evaluator/air.ts'
import {
  airIn,
  deviation,
  flowOf,
  isSupply,
  planeIn,
  sum,
  type TerminalFigures,
  terminalsIn,
  volumeM3,
} from './second-evaluator/figures.ts'
import { openForm, type RunInForm, si } from './second-evaluator/form.ts'
import { areaMean, designFlowOf, errorsOf, judge, known } from './second-evaluator/judge-run.ts'
import type { RunSaid, Said } from './second-evaluator/said.ts'
import { added, expanded, flowErrors, meanErrors, withVolume } from './second-evaluator/uncertainty.ts'
import { worst } from './second-evaluator/verdicts.ts'

/*
 * The demo evaluated twice: by Facegrid (`evaluate --json`), and by a second evaluator beside this file that was written from the rules of the trade
 * and shares no code with it. What is independent: reading the exchange form and what was typed in it, units, calibration curves, densities,
 * conversion between bases, hood factors, pitot tube and orifice, means and spreads, flows, air changes, balance, uncertainty, guard bands,
 * verdicts and their roll-up. Densities are held against psychrolib as well (ASHRAE Handbook Fundamentals 2017; an ideal gas, up to 6e-4 off). What
 * is not: which criteria apply to which subject is taken from the evaluation, and the readings are the demo's, which are invented.
 */
let folder: string
let said: Said
let find: (runId: string) => RunInForm
let runs: RunSaid[]
beforeAll(async () => {
  folder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-second-'))
  await buildDemo(path.join(folder, 'demo.facegrid'))
  said = JSON.parse((await facegrid(folder, 'evaluate', 'demo.facegrid', '--all', '--json')).out) as Said
  await facegrid(folder, 'export', 'demo.facegrid', 'full.json')
  find = openForm(readFileSync(path.join(folder, 'full.json'), 'utf8'))
  runs = said.certifications.flatMap(({ rooms }) => rooms.flatMap((room) => room.runs.map(({ result }) => result)))
}, 180_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Agreement to a share of the expected figure. */
function agree(given: number | null | undefined, expected: number | null, what: string, within = 1e-9): void {
  if (expected === null) {
    expect(given, what).toBeNull()
    return
  }
  expect(Math.abs((given ?? Number.NaN) - expected), `${what}: ${given} against ${expected}`).toBeLessThanOrEqual(
    within * Math.abs(expected) + 1e-12,
  )
}

const terminalsOf = (run: RunSaid): TerminalFigures[] => terminalsIn(find(run.runId), find).terminals
describe('densities', () => {
  test('of every run, against the same formula written twice, and against psychrolib', () => {
    psychrolib.SetUnitSystem(psychrolib.SI)
    for (const run of runs) {
      const air = airIn(find(run.runId))
      agree(run.air.actualKgpm3, air.kgpm3, 'density')
      const ratio = psychrolib.GetHumRatioFromRelHum(air.temperatureC, air.humidityPercent / 100, air.pressurePa)
      agree(run.air.actualKgpm3, psychrolib.GetMoistAirDensity(air.temperatureC, ratio, air.pressurePa), 'density by psychrolib', 6e-4)
    }
    agree(cipmKgpm3(21.1, 101_325, 0), psychrolib.GetMoistAirDensity(21.1, 0, 101_325), 'standard air by psychrolib', 6e-4)
  })
})

describe('figures within 1e-9', () => {
  test('of every terminal: as indicated, of standard and of actual air', () => {
    let compared = 0
    for (const run of runs) {
      const own = new Map(terminalsOf(run).map((terminal) => [terminal.id, terminal]))
      for (const filter of run.filters) {
        const terminal = own.get(filter.terminalId)
        if (!terminal) throw new Error(`${filter.tag} is not in the form`)
        const { way, actual, indicated, standard, body } = terminal
        const velocities = way === 'face_grid' || way === 'duct_traverse'
        const middle = known(actual)
        agree(filter.meanVelocityMps, velocities ? middle : null, `${filter.tag} mean`)
        agree(filter.flowM3ps, middle === null ? null : flowOf(terminal, actual), `${filter.tag} flow`)
        for (const [basis, points] of [
          ['as_indicated', indicated],
          ['standard', standard],
          ['actual', actual],
        ] as const)
          if (points && points.length > 0) agree(filter.byBasis[basis]?.flowM3ps, flowOf(terminal, points), `${filter.tag} ${basis}`)
        agree(filter.hoodFactor, terminal.hoodFactor, `${filter.tag} hood factor`)
        if (middle === null) continue
        if (velocities) {
          agree(filter.standardDeviationMps, deviation(actual), `${filter.tag} s`)
          agree(filter.relativeStandardDeviationPercent, (100 * deviation(actual)) / middle, `${filter.tag} rsd`)
          const farthest = Math.max(...actual.map((point) => Math.abs(point - middle)))
          agree(filter.largestDeviationPercent, (100 * farthest) / middle, `${filter.tag} largest deviation`)
        }
        const design = body.designVelocity && !body.designFlow ? (100 * middle) / si(body.designVelocity) : null
        agree(
          filter.percentOfDesign,
          design ?? (100 * flowOf(terminal, actual)) / (designFlowOf(terminal) ?? Number.NaN),
          `${filter.tag} design`,
        )
        compared += 1
      }
    }
    expect(compared).toBeGreaterThan(550)
  })

  test('of every area, and of the plane at working height', () => {
    let compared = 0
    for (const run of runs) {
      const filters = terminalsOf(run).filter(isSupply)
      for (const zone of run.zones) {
        const form = find(run.runId)
        const plane = form.body.method === 'plane_velocity_grid' ? planeIn(form) : null
        const inside = filters.filter(({ body }) => body.zoneId === zone.zoneId || zone.zoneId === form.body.roomId)
        const middle = plane ? known(plane.actual) : areaMean(inside)
        agree(zone.meanVelocityMps, middle, 'area mean')
        if (middle === null) continue
        const points = plane ? plane.actual : inside.flatMap(({ actual }) => actual)
        agree(zone.relativeStandardDeviationPercent, (100 * deviation(points)) / middle, 'area rsd')
        compared += 1
      }
    }
    expect(compared).toBeGreaterThan(30)
  })

  test('of every room: supply, air changes, balance', () => {
    let balanced = 0
    for (const run of runs.filter(({ zoneId }) => zoneId === null)) {
      const form = find(run.runId)
      const terminals = terminalsOf(run)
      const room = form.of('room')[0]?.body
      if (!room) throw new Error('a run without a room')
      const supply = terminals.filter(isSupply)
      const complete = supply.every(({ actual }) => actual.length > 0)
      const flow = (some: readonly TerminalFigures[]) => sum(some.map((terminal) => flowOf(terminal, terminal.actual)))
      const volume = volumeM3(room)
      agree(run.room.volumeM3, volume, 'volume')
      agree(run.room.supplyFlowM3ps, complete ? flow(supply) : null, 'supply')
      agree(run.room.airChangesPerHour, complete ? (3600 * flow(supply)) / volume : null, 'air changes')
      const outside = supply.filter(({ body }) => body.airSource === 'air_handler')
      agree(run.room.outsideAirChangesPerHour, complete ? (3600 * flow(outside)) / volume : null, 'outside air changes')
      const design =
        room.designAirChangesPerHour === null
          ? sum(supply.map((filter) => designFlowOf(filter) ?? Number.NaN))
          : (room.designAirChangesPerHour * volume) / 3600
      agree(run.room.percentOfDesign, complete ? (100 * flow(supply)) / design : null, 'room percent of design')
      if (!run.room.balance) continue
      const { instruments } = terminalsIn(form, find)
      // Of the instruments that read the air: a gauge at a door tells no standard flow.
      const read = new Set(terminals.flatMap(({ used }) => used.map(({ reading }) => reading.instrumentId)))
      const standards = new Set([...read].map((id) => instruments.get(id)?.standardKgpm3 ?? null))
      const [only] = standards
      const reference = standards.size === 1 && only ? only : cipmKgpm3(20, 101_325, 0)
      const air = airIn(form)
      // What goes round within the room crosses no boundary, whichever end of it is looked at.
      const throughWall = ({ body }: TerminalFigures) => body.airSource === 'air_handler' || body.airSource === 'shared_plenum'
      const crossing = supply.filter(throughWall)
      const of = (kind: string) => terminals.filter(({ body }) => body.kind === kind)
      const returns = of('return_grille').filter(throughWall)
      // A run that is still open has its sums so far, and no offset.
      const measured = (some: readonly TerminalFigures[]) => some.filter(({ actual }) => actual.length > 0)
      const mass = (some: readonly TerminalFigures[]) => (flow(measured(some)) * air.kgpm3) / reference
      const crosses = [...crossing, ...returns, ...of('exhaust_grille')]
      const whole = measured(crosses).length === crosses.length
      const offset = whole ? mass(crossing) - mass(returns) - mass(of('exhaust_grille')) : null
      agree(run.room.balance.supplyM3ps, mass(crossing), 'supply of the balance')
      agree(run.room.balance.returnM3ps, mass(returns), 'return')
      agree(run.room.balance.exhaustM3ps, mass(of('exhaust_grille')), 'exhaust')
      agree(run.room.balance.recirculatedM3ps, mass(supply.filter((filter) => !crossing.includes(filter))), 'recirculated')
      agree(run.room.balance.offsetM3ps, offset, 'offset', 1e-8)
      agree(run.room.balance.offsetAtRoomM3ps, offset === null ? null : (offset * reference) / air.kgpm3, 'offset at the room', 1e-8)
      balanced += 1
    }
    expect(balanced).toBeGreaterThan(29)
  })
})

/** The budget's sensitivity to humidity and pressure is taken by differences of different steps. */
const DIFFERENCES = 1e-6

describe('expanded uncertainty', () => {
  test('of the mean and the flow of every terminal', () => {
    let compared = 0
    for (const run of runs) {
      const flows = errorsOf(run, find, flowErrors)
      const means = errorsOf(run, find, meanErrors)
      for (const filter of run.filters) {
        const ofFlow = flows.errors.get(filter.terminalId)
        const ofMean = means.errors.get(filter.terminalId)
        if (!ofFlow || !ofMean) continue
        const { U, k } = expanded(ofFlow, 95)
        agree(filter.uncertainty?.flow?.expandedM3ps, U, `${filter.tag} U of flow`, DIFFERENCES)
        agree(filter.uncertainty?.flow?.coverageFactor, k, `${filter.tag} k`, DIFFERENCES)
        if (filter.meanVelocityMps !== null)
          agree(filter.uncertainty?.meanVelocity?.expandedMps, expanded(ofMean, 95).U, `${filter.tag} U`, DIFFERENCES)
        compared += 1
      }
    }
    expect(compared).toBeGreaterThan(550)
  })

  test('of the supply and the air changes of every room, the instrument shared by all its filters', () => {
    let compared = 0
    for (const run of runs) {
      const { terminals, errors, settings, room } = errorsOf(run, find, flowErrors)
      const { supplyFlowM3ps, airChangesPerHour, volumeM3: volume, uncertainty } = run.room
      if (supplyFlowM3ps === null || airChangesPerHour === null || !room) continue
      const total = added(terminals.filter(isSupply).flatMap(({ id }) => errors.get(id) ?? []))
      agree(uncertainty?.supplyFlow?.expandedM3ps, expanded(total, 95).U, 'U of supply', DIFFERENCES)
      const perHour = withVolume(total, volume, airChangesPerHour, settings)
      agree(uncertainty?.airChanges?.expandedPerHour, expanded(perHour, 95).U, 'U of air changes', DIFFERENCES)
      compared += 1
    }
    expect(compared).toBeGreaterThan(70)
  })
})

describe('verdicts', () => {
  test('every criterion that applies reads the same, and rolls up to the same', () => {
    const counts: Record<string, number> = {}
    for (const run of runs) {
      const answers = judge(run, find)
      for (const { what, given, expected } of answers) expect(given, what).toBe(expected)
      const verdicts = answers.map(({ expected }) => expected)
      for (const verdict of verdicts) counts[verdict] = (counts[verdict] ?? 0) + 1
      expect(run.verdict).toBe(worst(verdicts))
    }
    expect(counts.pass).toBeGreaterThan(900)
    for (const kind of ['fail', 'inconclusive', 'not_tested']) expect(counts[kind] ?? 0, kind).toBeGreaterThan(3)
  })

  test('of every room: the worst of the runs that count', () => {
    for (const { rooms } of said.certifications)
      for (const room of rooms) expect(room.verdict).toBe(worst(room.runs.filter(({ current }) => current).map(({ verdict }) => verdict)))
  })
})

test('the second evaluator shares no code with Facegrid', () => {
  for (const file of ['air', 'figures', 'form', 'judge-run', 'said', 'uncertainty', 'verdicts']) {
    const text = readFileSync(new URL(`./second-evaluator/${file}.ts`, import.meta.url), 'utf8')
    const imports = [...text.matchAll(/from '([^']+)'/g)].map(([, from]) => from ?? '')
    expect(imports.filter((from) => !/^\.\/(air|figures|form|judge-run|said|uncertainty|verdicts)\.ts$/.test(from))).toEqual([])
  }
})
