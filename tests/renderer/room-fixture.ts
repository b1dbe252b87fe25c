import { layOutRoom } from '#core/methods/airflow/room-layout.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered, Unit } from '#core/model/values.ts'
import { toSi } from '#core/units/units.ts'
import { createRunDesk, type FilterView } from '#renderer/readings/run-desk.ts'
import type { FilterPlan, RunDetail, RunPlan } from '#renderer/readings/run-plan.ts'
import { unitOfRun } from '#renderer/readings/run-units.ts'
import { understand } from '#renderer/readings/understand.ts'
import { INSTRUMENT, planOf, runDetail, uuid } from './run-fixture.ts'

export const value = (number: number, unit: Unit): Entered => ({ si: toSi(number, unit), typed: String(number), unit })
export const METRIC = { flow: 'm3/h', pressure: 'Pa' } as const
export const HOOD = uuid(0xb01)
export const MANOMETER = uuid(0xb02)
export const ZONE = uuid(0xf00)
export const DOOR = uuid(0xf01)

function terminalLike(detail: RunDetail, tag: string, more: Partial<EntityBody<'terminal'>>): EntityBody<'terminal'> {
  const like = detail.pins.find((pin) => pin.kind === 'terminal')
  if (like?.kind !== 'terminal') throw new Error('no terminal')
  return { ...like.body, tag, grid: { rows: 1, columns: 2 }, ...more }
}

const asInstrument = (name: string, senses: EntityBody<'instrument'>['senses'], more: Partial<EntityBody<'instrument'>> = {}) => ({
  name,
  serialNumber: name,
  senses,
  sensing: 'not_directional' as const,
  reportsReverseFlow: false,
  ...LATER_FIELDS.instrument,
  averagingTimeS: 10,
  basis: 'actual' as const,
  active: true,
  note: '',
  ...more,
})

export const hood = asInstrument(
  'Hood',
  [{ quantity: 'flow', low: value(50, 'm3/h'), high: value(4000, 'm3/h'), resolution: value(1, 'm3/h'), accuracy: null }],
  {
    hoodFactors: [
      { face: 'swirl', low: value(100, 'm3/h'), high: value(800, 'm3/h'), factor: 1.05, uncertaintyPercent: null, reason: 'traverse' },
    ],
  },
)
export const manometer = asInstrument('Manometer', [
  { quantity: 'velocity_pressure', low: value(0, 'Pa'), high: value(500, 'Pa'), resolution: value(0.1, 'Pa'), accuracy: null },
])

/** A room of three hoods (one at a return), one grid and a round duct by pitot tube. */
export function roomPlan(run: Partial<EntityBody<'run'>> = {}): RunPlan {
  const detail = runDetail(1, { method: 'room_airflow', ...run })
  const duct: EntityBody<'terminal'>['duct'] = {
    section: { shape: 'round', diameter: value(315, 'mm') },
    rule: 'log_linear',
    lines: 2,
    pointsPerLine: 6,
    measures: 'velocity_pressure',
    pitotCoefficient: 1,
    direction: 'exhaust',
    countsInRoom: true,
    straightBefore: null,
    straightAfter: null,
    cyclonic: null,
  }
  const bodies = [
    terminalLike(detail, 'T-1', { face: 'swirl', designFlow: value(500, 'm3/h') }),
    terminalLike(detail, 'T-2', { face: 'swirl' }),
    terminalLike(detail, 'T-3', { kind: 'return_grille', face: 'grille' }),
    terminalLike(detail, 'T-4', {}),
    terminalLike(detail, 'T-5', { kind: 'duct_section', mounting: 'duct', duct }),
  ]
  const terminals = bodies.map((body, index) => ({ id: uuid(index + 1), revision: 1, body }))
  const pin = <K extends Entity['kind']>(kind: K, id: string, body: EntityBody<K>): Entity =>
    // Kind and body belong together by the signature.
    ({ kind, id, parentId: null, revision: 1, removed: false, body }) as Entity
  return planOf({
    ...detail,
    pins: [
      ...detail.pins.filter(({ kind }) => kind !== 'terminal'),
      ...terminals.map(({ id, body }) => pin('terminal', id, body)),
      pin('instrument', HOOD, hood),
      pin('instrument', MANOMETER, manometer),
      pin('door', DOOR, {
        name: 'Door',
        roomIds: [uuid(0x1000), null],
        x: 0,
        y: 0,
        width: 1,
        rotationDegrees: 0,
        leastPressureDifference: value(10, 'Pa'),
        ...LATER_FIELDS.door,
        note: '',
      }),
    ],
    locations: layOutRoom({ terminals, facingDegrees: 0, gridFor: new Map() }),
  })
}

export function deskOf(plan: RunPlan) {
  const hands: Record<string, string> = { flow: HOOD, velocity: INSTRUMENT, velocity_pressure: MANOMETER }
  const quantityAt = (point: number) => plan.filterOf.get(plan.terminalOfPoint.get(point) ?? '')?.quantity ?? 'velocity'
  let commands = 0
  return createRunDesk(
    plan,
    [],
    {
      signature: (point) => {
        commands += 1
        return {
          commandId: uuid(0x5000 + commands),
          personId: uuid(0xccc),
          instrumentId: point === null ? '' : (hands[quantityAt(point)] ?? ''),
          at: '2026-03-02T08:00:00.000Z',
        }
      },
      understand: (text, place) => {
        const quantity = quantityAt(place.point)
        const instrument = plan.instruments.find(({ id }) => id === hands[quantity]) ?? null
        const filter = plan.filterOf.get(plan.terminalOfPoint.get(place.point) ?? '')
        const carriedTag = filter?.carried == null ? null : filter.terminal.body.tag
        return understand(text, plan, { quantity, unit: unitOfRun(plan.run.body, quantity, METRIC), carriedTag }, instrument, true)
      },
      send: () => new Promise(() => undefined),
      reload: () => undefined,
      acknowledged: () => undefined,
      shelf: { load: () => [], save: () => undefined },
      wait: () => () => undefined,
    },
    null,
  )
}

export const type = (d: ReturnType<typeof deskOf>, text: string) => {
  for (const character of text) d.type({ kind: 'character', character })
  return d.type({ kind: 'enter' })
}
export const at = (plan: RunPlan, tag: string): FilterPlan => {
  const filter = plan.filters.find(({ terminal }) => terminal.body.tag === tag)
  if (!filter) throw new Error(tag)
  return filter
}
export const viewOf = (d: ReturnType<typeof deskOf>, filter: FilterPlan): FilterView => {
  const view = d.view(filter.terminalId)
  if (!view) throw new Error('no view')
  return view
}
