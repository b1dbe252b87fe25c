import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { ContractRouterClient } from '@orpc/contract'
import { createRouterClient } from '@orpc/server'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Contract } from '#core/api/contract.ts'
import type { Entity, EntityKind } from '#core/model/entities.ts'
import { contains, outlineOf, terminalCorners } from '#core/rooms/geometry.ts'
import { createEngine, type Engine } from '#electron/engine.ts'
import { buildDemo } from '../../demo-data/build.ts'

// The demo is invented. These tests hold its stories and its shape; they prove nothing about the calculation.

const TODAY = Date.parse('2026-11-25T09:00:00Z')
let folder: string
let engine: Engine
let api: ContractRouterClient<Contract>
let path: string

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'demo-test-'))
  path = join(folder, 'demo.facegrid')
  await buildDemo(path)
  engine = createEngine({
    host: 'headless',
    version: 'test',
    clock: () => TODAY,
    uuid: () => crypto.randomUUID(),
    settingsFolder: folder,
    access: { roots: () => [], allow: (wanted) => wanted },
  })
  api = createRouterClient(engine.router)
  await api.files.open({ path, readOnly: true })
}, 180_000)

afterAll(async () => {
  await engine?.close()
  rmSync(folder, { recursive: true, force: true })
})

async function all<K extends EntityKind>(kind: K): Promise<Entity<K>[]> {
  const entities = await api.entities.list({ kinds: [kind], within: null })
  return entities.filter((entity): entity is Extract<typeof entity, Entity<K>> => entity.kind === kind)
}

async function visits() {
  return (await all('certification')).sort((a, b) => a.body.startsOn.localeCompare(b.body.startsOn))
}

async function roomsByNumber() {
  return new Map((await all('room')).map((room) => [room.body.number, room]))
}

describe('size', () => {
  test('three areas, eighteen rooms, about 120 filters, four visits, about 5,000 readings', async () => {
    expect(await all('facility')).toHaveLength(3)
    expect(await all('room')).toHaveLength(18)
    const terminals = await all('terminal')
    expect(terminals.filter(({ body }) => body.kind === 'supply_filter' || body.kind === 'fan_filter_unit')).toHaveLength(124)
    expect(terminals.filter(({ body }) => body.kind === 'exhaust_grille').length).toBeGreaterThan(2)
    expect(terminals.filter(({ body }) => body.kind === 'return_grille').length).toBeGreaterThan(15)
    expect((await visits()).map(({ body }) => body.name)).toEqual([2023, 2024, 2025, 2026].map((year) => `Certification ${year}`))
    const file = new Database(path, { readonly: true })
    const { readings } = file.prepare<[], { readings: number }>('SELECT count(*) AS readings FROM reading').get() ?? { readings: 0 }
    file.close()
    expect(readings).toBeGreaterThan(4_500)
    expect(readings).toBeLessThan(5_500)
  })
})

describe('geometry', () => {
  test('every filter hangs inside its room, over its zone where it has one, and none overlaps another', async () => {
    const rooms = new Map((await all('room')).map((room) => [room.id, room.body]))
    const zones = new Map((await all('zone')).map((zone) => [zone.id, zone.body]))
    const ceiling = (await all('terminal')).filter(({ body }) => body.mounting === 'ceiling')
    for (const { parentId, body } of ceiling) {
      const room = rooms.get(parentId ?? '')
      if (!room) throw new Error(`${body.tag} has no room`)
      const zone = body.zoneId === null ? null : zones.get(body.zoneId)
      for (const corner of terminalCorners(body)) {
        expect(contains(outlineOf(room.shape), corner), `${body.tag} in ${room.number}`).toBe(true)
        if (zone) expect(contains(zone.boundary, corner), `${body.tag} in ${zone.name}`).toBe(true)
      }
    }
    for (const [index, one] of ceiling.entries()) {
      for (const other of ceiling.slice(index + 1)) {
        if (one.parentId !== other.parentId) continue
        const apartX = Math.abs(one.body.x - other.body.x) >= (one.body.grossWidth.si + other.body.grossWidth.si) / 2
        const apartY = Math.abs(one.body.y - other.body.y) >= (one.body.grossDepth.si + other.body.grossDepth.si) / 2
        expect(apartX || apartY, `${one.body.tag} and ${other.body.tag}`).toBe(true)
      }
    }
  })

  test('rooms of one area do not overlap', async () => {
    const boxes = (await all('room')).map(({ parentId, body }) => {
      const corners = outlineOf(body.shape)
      const xs = corners.map((corner) => corner.x)
      const ys = corners.map((corner) => corner.y)
      const box = { left: Math.min(...xs), right: Math.max(...xs), low: Math.min(...ys), high: Math.max(...ys) }
      return { parentId, number: body.number, isBox: body.shape.kind === 'rectangle', ...box }
    })
    for (const [index, one] of boxes.entries()) {
      for (const other of boxes.slice(index + 1)) {
        if (one.parentId !== other.parentId || !one.isBox || !other.isBox) continue
        const apart = one.right <= other.left || other.right <= one.left || one.high <= other.low || other.high <= one.low
        expect(apart, `${one.number} and ${other.number}`).toBe(true)
      }
    }
  })
})

describe('stories', () => {
  test('signed years pass, and each had something to put right', async () => {
    const [first, second, third] = await visits()
    const rooms = await roomsByNumber()
    const expected = [
      [first, ['F-107']],
      [second, ['P-201']],
      [third, ['F-102', 'P-206']],
    ] as const
    for (const [visit, retested] of expected) {
      const state = await api.evaluation.certification({ certificationId: visit?.id ?? '' })
      expect(state.verdict).toBe('pass')
      expect(state.rooms.filter((room) => room.failedAsFound).map((room) => room.roomId)).toEqual(
        retested.map((number) => rooms.get(number)?.id),
      )
      expect(state.rooms.flatMap((room) => room.runs).every((run) => run.state === 'signed')).toBe(true)
      expect(visit?.body.finished).toBe(true)
    }
  })

  test('this year one room fails and its retest is open, three were retested, every room is measured', async () => {
    const visit = (await visits()).at(-1)
    const rooms = await roomsByNumber()
    const state = await api.evaluation.certification({ certificationId: visit?.id ?? '' })
    const failing = state.rooms.filter((room) => room.verdict === 'fail')
    expect(failing.map((room) => room.roomId)).toEqual([rooms.get('P-202')?.id])
    expect(failing[0]?.runs.find((run) => run.phase === 'as_left')).toMatchObject({ state: 'open', verdict: 'not_tested', current: false })
    const required = rooms.get('P-202')?.body.requiredAirChangesPerHour ?? Number.NaN
    expect(failing[0]?.airChangesPerHour).toBeLessThan(required)
    const retested = state.rooms.filter((room) => room.failedAsFound).map((room) => room.roomId)
    expect(retested).toEqual(['F-104', 'Q-302', 'Q-304'].map((number) => rooms.get(number)?.id))
    expect(state.counts).toMatchObject({ not_tested: 0, not_valid: 0 })
    expect(state.rooms.filter((room) => room.verdict === 'inconclusive').map((room) => room.roomId)).toEqual([rooms.get('Q-303')?.id])
  })

  test('this year against last: what a quality manager has to know stands in the summary', async () => {
    const [, , then, now] = await visits()
    const comparison = await api.compare.certifications({ thenId: then?.id ?? '', nowId: now?.id ?? '', roomId: null })
    const codes = comparison.summary.map((sentence) => sentence.code)
    expect(codes.filter((code) => code === 'summary.retested')).toHaveLength(3)
    for (const code of ['fails', 'air_changes_fell', 'loading', 'replaced', 'instruments', 'criteria'])
      expect(codes).toContain(`summary.${code}`)
    const worst = comparison.rows[0]
    expect(worst).toMatchObject({ kind: 'room', label: expect.stringContaining('P-202'), verdictThen: 'pass', verdictNow: 'fail' })
    expect(worst?.figure.changePercent).toBeLessThan(-10)
    const replaced = comparison.rows.filter(
      (row) => row.kind === 'filter' && row.breaks.some((sentence) => sentence.code === 'break.element'),
    )
    expect(replaced.map((row) => row.label)).toEqual(['F-101/18'])
    expect(replaced[0]?.figure.changePercent).toBeGreaterThan(5)
    const loading = comparison.rows.filter(
      (row) => row.kind === 'filter' && ['F-101/13', 'F-101/14', 'F-101/15', 'F-101/16'].includes(row.label),
    )
    for (const row of loading) expect(row.figure.changePercent).toBeLessThan(-7)
    const told = comparison.summary.find(({ code }) => code === 'summary.loading')
    for (const tag of ['F-101/13', 'F-101/14', 'F-101/15', 'F-101/16']) expect(JSON.stringify(told?.params)).toContain(tag)
  })

  test('last year would not all have passed under the criteria of this year: the sampling booth was uneven already', async () => {
    const [, , then] = await visits()
    const rooms = await roomsByNumber()
    const { results } = await api.evaluation.room({ certificationId: then?.id ?? '', roomId: rooms.get('Q-302')?.id ?? '' })
    const zone = results[0]?.zones[0]
    const farthest = results[0]?.filters
      .filter((filter) => filter.zoneId !== null)
      .flatMap((filter) =>
        filter.pointMeansMps.map((point) => Math.abs((point.meanMps ?? Number.NaN) / (zone?.meanVelocityMps ?? Number.NaN) - 1)),
      )
    expect(results[0]?.verdict).toBe('pass')
    expect(Math.max(...(farthest ?? []))).toBeGreaterThan(0.2)
    expect(Math.max(...(farthest ?? []))).toBeLessThan(0.25)

    const now = (await visits()).at(-1)
    const asked = { certificationId: then?.id ?? '', criteriaFromId: now?.id ?? '' }
    const answers = await api.compare.underOtherCriteria({ ...asked, roomId: null })
    const otherwise = answers.filter((room) => room.asJudged !== room.underOther)
    expect(otherwise.filter((room) => room.underOther === 'fail')).toMatchObject([
      { label: 'Q-302', asJudged: 'pass', underOther: 'fail', changedCriteria: true },
    ])
    // The guarded rule of this year leaves open what the uncertain anemometer A3 let pass last year.
    expect(otherwise.filter((room) => room.underOther !== 'fail').every((room) => room.underOther === 'inconclusive')).toBe(true)
    expect(otherwise.map((room) => room.label)).toContain('Q-303')
    expect(answers.find((room) => room.label === 'P-201')).toMatchObject({ changedCriteria: true, asJudged: 'pass', underOther: 'pass' })
    expect(await api.compare.underOtherCriteria({ ...asked, roomId: rooms.get('Q-302')?.id ?? '' })).toHaveLength(1)
  })

  test('a run measured past due is released by the next certificate, and says so', async () => {
    const [, second] = await visits()
    const rooms = await roomsByNumber()
    const { results } = await api.evaluation.room({ certificationId: second?.id ?? '', roomId: rooms.get('Q-303')?.id ?? '' })
    expect(results[0]?.verdict).toBe('pass')
    expect(JSON.stringify(results[0])).toContain('KW-24-0731')
  })

  test('as found and as left were measured by different people', async () => {
    for (const visit of await visits()) {
      const state = await api.evaluation.certification({ certificationId: visit.id })
      for (const room of state.rooms.filter((one) => one.runs.some(({ phase }) => phase === 'as_left'))) {
        const people = await Promise.all(room.runs.map(async ({ runId }) => (await api.runs.get({ runId })).readings[0]?.personId))
        expect(new Set(people).size).toBe(room.runs.length)
      }
    }
  })

  test('on the day of the demo the next visit is due in about six weeks, and a calibration ends that week', async () => {
    const overview = await api.evaluation.overview({ certificationId: null })
    const due = overview.notices.find((notice) => notice.kind === 'due')
    expect(due?.sentence.params).toMatchObject({ on: '2027-01-09', days: 45 })
    expect(overview.notices.some((notice) => notice.kind === 'calibration' && notice.sentence.params.on === '2027-01-06')).toBe(true)
  })

  test('slips of the hand were put right, and stay in the trail', async () => {
    const file = new Database(path, { readonly: true })
    const rows = file
      .prepare<[], { wrong: number; right: number }>(
        'SELECT old.si AS wrong, fresh.si AS right FROM reading old JOIN reading fresh ON fresh.id = old.replaced_by',
      )
      .all()
    file.close()
    expect(rows.length).toBeGreaterThan(15)
    for (const { wrong, right } of rows) expect(wrong / right).toBeCloseTo(10, 0)
  })
})

describe('the air of the rooms this year', () => {
  async function resultsOf(number: string) {
    const visit = (await visits()).at(-1)
    const room = (await roomsByNumber()).get(number)
    return (await api.evaluation.room({ certificationId: visit?.id ?? '', roomId: room?.id ?? '' })).results
  }

  test('640 m above the sea the air is thinner than the standard air that thermal anemometers speak of', async () => {
    const [result] = await resultsOf('P-202')
    expect(result?.air).toMatchObject({
      pressureFrom: 'measured',
      standardKgpm3: expect.closeTo(1.2, 2),
      actualKgpm3: expect.closeTo(1.11, 1),
    })
    const [filter] = result?.filters ?? []
    const { actual, standard } = filter?.byBasis ?? {}
    const ratio = (result?.air?.standardKgpm3 ?? 0) / (result?.air?.actualKgpm3 ?? 1)
    expect(ratio).toBeGreaterThan(1.06)
    expect((actual?.meanVelocityMps ?? 0) / (standard?.meanVelocityMps ?? 1)).toBeCloseTo(ratio, 9)
    expect(filter?.basis).toBe('actual')
  })

  test('returns by hood, one exhaust by its orifice, one by a traverse of 5 x 5 points, as uncertain as they are', async () => {
    const [capping] = await resultsOf('F-103')
    const [weighing] = await resultsOf('P-204')
    const ways = [...(capping?.filters ?? []), ...(weighing?.filters ?? [])].filter(({ way }) => way !== 'face_grid')
    expect(ways.map(({ tag, way, direction, pointsPlanned }) => [tag, way, direction, pointsPlanned])).toEqual([
      ['F-103/R1', 'hood', 'return', 1],
      ['F-103/X2', 'flow_element', 'exhaust', 1],
      ['P-204/X1', 'duct_traverse', 'exhaust', 25],
    ])
    for (const { percentOfDesign, uncertainty } of ways) {
      expect(Math.abs((percentOfDesign ?? 0) - 100)).toBeLessThan(8)
      expect(uncertainty?.flow?.expanded).toBeGreaterThan(0)
    }
    expect(capping?.room.balance?.offsetM3ps).toBeGreaterThan(0)
    expect(weighing?.room.balance?.offsetM3ps).toBeLessThan(0)
  })

  test('one room gives air by its balance, and is below its corridor and the outside', async () => {
    const [gowning] = await resultsOf('P-205')
    expect(
      gowning?.doors.map(({ name, expected, measured, measuredAgainstBalance }) => [name, expected, measured, measuredAgainstBalance]),
    ).toEqual([
      ['Gowning', 'positive', 'negative', 'disagrees'],
      ['Personnel in', 'positive', 'negative', 'disagrees'],
    ])
  })

  test('the air of line 1 at working height, cell by cell', async () => {
    const plane = (await resultsOf('F-101')).find(({ plane: { kind } }) => kind === 'working_height')
    expect(plane?.zones[0]).toMatchObject({ pointsMeasured: 50, verdict: 'pass' })
    expect(plane?.zones[0]?.planeCells).toHaveLength(50)
  })

  test('what was not touched is carried from as found, and says so', async () => {
    const asLeft = (await resultsOf('Q-304')).find(({ phase }) => phase === 'as_left')
    const carried = asLeft?.filters.filter((filter) => filter.carried).map(({ tag }) => tag)
    expect(carried).toEqual(['Q-304/04', 'Q-304/05', 'Q-304/06', 'Q-304/R1', 'Q-304/R2'])
    expect(asLeft?.verdict).toBe('pass')
  })

  test('an uncertain anemometer leaves two filters open, and was itself found out of tolerance later', async () => {
    const [result] = await resultsOf('Q-303')
    const open = result?.filters.filter(({ verdict }) => verdict === 'inconclusive')
    expect(open?.map(({ tag }) => tag)).toEqual(['Q-303/01', 'Q-303/02'])
    expect(open?.[0]?.criteria[0]?.guardBand).toBeGreaterThan(0)
    const suspect = (await all('calibration')).find(({ body }) => body.foundInTolerance === false)
    const doubts = await api.recalculation.preview({ instrumentId: suspect?.parentId ?? '' })
    expect(doubts.flatMap(({ runs }) => runs).length).toBe(2)
  })

  test('an omnidirectional probe under filters was accepted with a reason', async () => {
    const [first] = await visits()
    const runs = (await api.runs.list({ certificationId: first?.id ?? '' })).flatMap((run) => (run.kind === 'run' ? [run.body] : []))
    const accepted = runs.flatMap(({ acceptedMisfits }) => acceptedMisfits)
    expect(accepted).toHaveLength(4)
    expect(accepted[0]?.reason).toContain('smoke')
  })

  test('the air of the site adds up: what its rooms give is what leaves it', async () => {
    const visit = (await visits()).at(-1)
    const site = await api.balance.site({ certificationId: visit?.id ?? '', facilityId: null })
    expect(site.basis).toBe('standard')
    expect(site.rooms).toHaveLength(18)
    let given = 0
    for (const { supplyM3ps, returnM3ps, exhaustM3ps, offsetM3ps } of site.rooms) {
      expect(supplyM3ps - returnM3ps - exhaustM3ps).toBeCloseTo(offsetM3ps ?? Number.NaN, 9)
      given += offsetM3ps ?? Number.NaN
    }
    expect(given).toBeCloseTo(site.offsetM3ps ?? Number.NaN, 9)
    expect(site.toOutsideM3ps + (site.unaccountedM3ps ?? Number.NaN)).toBeCloseTo(site.offsetM3ps ?? Number.NaN, 9)
    expect(site.betweenRoomsM3ps).toBeGreaterThan(0)
    const [first] = await visits()
    const then = await api.balance.site({ certificationId: first?.id ?? '', facilityId: null })
    // Measured by its supply alone in 2023: 6 supply filters of 1080 m3/h cross its boundary, 16 fan filter units move its own air.
    const hall = then.rooms.find(({ number }) => number === 'F-101')
    expect(hall?.gap).toBe('supply_only')
    expect((hall?.supplyM3ps ?? 0) * 3600).toBeGreaterThan(5_500)
    expect((hall?.supplyM3ps ?? 0) * 3600).toBeLessThan(6_800)
    expect((hall?.recirculatedM3ps ?? 0) * 3600).toBeGreaterThan(14_000)
    const fans = await api.balance.systems({ certificationId: visit?.id ?? '', facilityId: null })
    const slipping = fans.systems.find(({ name, direction }) => name.startsWith('Air handler 2') && direction === 'supply')
    expect(slipping?.percentOfDesign).toBeLessThan(90)
    for (const { percentOfDesign } of fans.systems) expect(percentOfDesign).toBeGreaterThan(80)
  })
})

test('the same source gives the same file, byte for byte in content', async () => {
  const again = join(folder, 'again.facegrid')
  await buildDemo(again)
  const contentOf = (file: string) => {
    const db = new Database(file, { readonly: true })
    const trail = db.prepare('SELECT hex(hash) AS hash FROM audit_entry ORDER BY id').all()
    const readings = db.prepare('SELECT run_id, location_id, sample, typed, si, at_ms, person_id FROM reading ORDER BY id').all()
    const entities = db.prepare('SELECT hex(uuid) AS id, kind, revision FROM entity ORDER BY id').all()
    db.close()
    return JSON.stringify({ trail, readings, entities })
  }
  expect(contentOf(again) === contentOf(path)).toBe(true)
}, 180_000)
