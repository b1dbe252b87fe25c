import fc from 'fast-check'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { EntityChange } from '#core/api/entities.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Quantity, Unit } from '#core/model/values.ts'
import { aDuct, aMeter } from '../core/room-run.ts'
import { buildSite, entered, type House, INSTRUMENT, type Site, startHouse, terminal } from './bench-site.ts'
import { BY_TAG, importFile, writeText } from './import-site.ts'

const SAMPLES = 2

const ORIFICE = { kind: 'stated', flowAtOnePascal: entered(0.01, 'm3/s'), statedDensityKgpm3: 1.2, uncertaintyPercent: 2 } as const

let house: House
let site: Site
let zoneId: string
/** a run of the whole room is laid out over each of these ways, besides a return hood that reads below zero */
const OTHERS: readonly EntityBody<'terminal'>[] = [
  terminal('T-3', 1, { face: 'swirl', designFlow: entered(480, 'm3/h') }),
  terminal('T-4', 2, { face: 'swirl' }),
  terminal('T-5', 3, { face: 'swirl' }),
  terminal('R-1', 4, { kind: 'return_grille', face: 'grille' }),
  terminal('R-2', 4, { kind: 'return_grille', face: 'grille' }),
  terminal('D-1', 1, { kind: 'duct_section', duct: aDuct() }),
  terminal('D-2', 2, { kind: 'duct_section', duct: aDuct({ measures: 'velocity_pressure' }) }),
  ...['O-1', 'O-2', 'O-3', 'O-4'].map((tag) =>
    terminal(tag, 3, { kind: 'duct_section', measuredBy: 'flow_element', flowElement: ORIFICE }),
  ),
]

beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  zoneId = v7()
  const boundary = [
    { x: 0, y: 0 },
    { x: 2, y: 0 },
    { x: 2, y: 2 },
  ]
  const zone = {
    name: 'Core',
    boundary,
    cleanlinessClass: 'ISO 5',
    occupancyState: 'at_rest',
    designVelocity: entered(0.45, 'm/s'),
  } as const
  await change([
    {
      kind: 'instrument',
      id: site.instrumentId,
      parentId: null,
      revision: 1,
      body: { ...INSTRUMENT, ...aMeter(), reportsReverseFlow: true },
    },
    ...OTHERS.map((body): EntityChange => ({ kind: 'terminal', id: v7(), parentId: site.roomId, revision: null, body })),
    { kind: 'zone', id: zoneId, parentId: site.roomId, revision: null, body: { ...zone, criteriaSetId: null, overrides: [], note: '' } },
  ])
})
afterEach(() => house.engine.close())

function change(changes: EntityChange[]) {
  return house.client.entities.change({ command: house.newCommand(site.personId), name: 'edit', scope: 'project', changes })
}

async function startRun(method: 'room_airflow' | 'plane_velocity_grid') {
  const id = v7()
  const overZone = method === 'plane_velocity_grid'
  await house.client.runs.start({
    command: house.newCommand(site.personId),
    id,
    certificationId: site.certificationId,
    roomId: site.roomId,
    zoneId: overZone ? zoneId : null,
    method,
    phase: 'as_found',
    plane: { kind: 'filter_face', distanceM: 0.15 },
    occupancyState: 'at_rest',
    operatingState: { airHandler: '', doors: '', equipment: '' },
    facingDegrees: 0,
    unit: 'm/s',
    averagingTimeS: 5,
    samplesPerPoint: SAMPLES,
    planeGrid: overZone ? { rows: 3, columns: 3 } : null,
  })
  return id
}

const USUAL: Partial<Record<Quantity, { readonly si: number; readonly units: readonly Unit[] }>> = {
  velocity: { si: 0.45, units: ['m/s', 'ft/min'] },
  flow: { si: 0.133, units: ['m3/s', 'm3/h', 'L/s', 'cfm'] },
  velocity_pressure: { si: 40, units: ['Pa', 'inH2O'] },
  pressure_difference: { si: 200, units: ['Pa', 'inH2O'] },
}
/** Honest values among slips of a decimal sign, of a unit, and of a sign. */
const FACTORS = [1, 1.1, 0.9, 1.3, 0.7, 0.3, 2.9, 3.6, 1 / 3.6, 10, 0.1, 100, 0.01, 1000, 197, 1 / 249, 0, -1] as const

type Row = { readonly point: number; readonly sample: number; readonly typed: string; readonly unit: Unit }

/** Some of the points in any order, with any of the values that are typed at hoods, faces, ducts and flow elements. */
function rowsOver(points: readonly { readonly number: number; readonly quantity: Quantity }[]): fc.Arbitrary<Row[]> {
  const places = points.flatMap(({ number, quantity }) => [1, 2].map((sample) => ({ number, quantity, sample })))
  return fc.shuffledSubarray(places, { minLength: 6 }).chain((chosen) =>
    fc.tuple(
      ...chosen.map(({ number, quantity, sample }) => {
        const usual = USUAL[quantity] ?? { si: 1, units: [] }
        return fc.tuple(fc.constantFrom(...FACTORS), fc.constantFrom(...usual.units)).map(([factor, unit]): Row => {
          const value = (usual.si * factor) / entered(1, unit).si
          return { point: number, sample, typed: String(Number(value.toPrecision(3))), unit }
        })
      }),
    ),
  )
}

const flagsOf = async (runId: string) =>
  new Map((await house.client.runs.get({ runId })).readings.map(({ point, sample, si, flags }) => [`${point}/${sample}`, [si, ...flags]]))

test.each(['room_airflow', 'plane_velocity_grid'] as const)(
  'the same values typed and imported get the same flags: %s',
  async (method) => {
    const mapping = {
      ...BY_TAG,
      headerRow: null,
      header: [],
      delimiter: ',' as const,
      decimal: 'point' as const,
      columns: { ...BY_TAG.columns, value: 3, terminal: null, point: 1, sample: 2, unit: 4, time: null },
    }
    const layout = await house.client.runs.get({ runId: await startRun(method) })
    const quantities = new Map(OTHERS.map(({ tag }) => [tag, quantityAtTag(tag)]))
    const tags = new Map(
      (await house.client.entities.list({ kinds: ['terminal'], within: null })).flatMap((one) =>
        one.kind === 'terminal' ? [[one.id, one.body.tag] as const] : [],
      ),
    )
    const points = layout.locations.map(({ number, terminalId }) => ({
      number,
      quantity: quantities.get(tags.get(terminalId ?? '') ?? '') ?? ('velocity' as const),
    }))
    const seen = new Set<string>()
    let questioned = 0
    await fc.assert(
      fc.asyncProperty(rowsOver(points), async (rows) => {
        const [typedRun, importedRun] = [await startRun(method), await startRun(method)]
        for (const { point, sample, typed, unit } of rows) {
          const entries = [{ point, sample, typed, unit, replaces: null }]
          await house.client.readings.record({
            command: house.newCommand(site.personId),
            runId: typedRun,
            instrumentId: site.instrumentId,
            entries,
          })
        }
        const text = rows.map(({ point, sample, typed, unit }) => `${point},${sample},${typed},${unit}`).join('\n')
        const outcome = await importFile(house, site, importedRun, writeText(house, 'rows.csv', `${text}\n`), { mapping, again: true })
        expect(outcome.problems).toEqual([])
        const typed = await flagsOf(typedRun)
        expect(await flagsOf(importedRun)).toEqual(typed)
        expect(typed.size).toBe(rows.length)
        for (const [place, flags] of typed) {
          if (!flags.includes('questioned')) continue
          questioned += 1
          seen.add(points.find(({ number }) => number === Number(place.split('/')[0]))?.quantity ?? '')
        }
      }),
      { numRuns: 12, seed: 20_260_302 },
    )
    expect(questioned).toBeGreaterThan(20)
    expect(seen).toEqual(new Set(points.map(({ quantity }) => quantity)))
  },
  240_000,
)

function quantityAtTag(tag: string): Quantity {
  if (tag === 'D-2') return 'velocity_pressure'
  if (tag.startsWith('O')) return 'pressure_difference'
  return tag === 'D-1' ? 'velocity' : 'flow'
}
