import type { ShortExchange } from '#core/model/exchange.ts'

export const MIXED_TECHNICIAN = 'Runa Eichfeld'

const id = (number: number) => `01940000-0000-7000-8000-${String(number).padStart(12, '0')}`
const day = (daysFromToday: number) => new Date(Date.now() + daysFromToday * 86_400_000).toISOString().slice(0, 10)
const m = (typed: string) => ({ typed, unit: 'm' })
const flow = (typed: string) => ({ typed, unit: 'm3/h' })
const speed = (typed: string) => ({ typed, unit: 'm/s' })
const pascal = (typed: string) => ({ typed, unit: 'Pa' })

function terminals() {
  const face = { grossWidth: m('0.6'), grossDepth: m('0.6'), effectiveArea: { typed: '0.25', unit: 'm2' } }
  const duct = {
    section: { shape: 'rectangle', width: m('0.25'), height: m('0.2') },
    rule: 'equal_area',
    lines: 2,
    pointsPerLine: 2,
    measures: 'velocity',
    pitotCoefficient: 1,
    direction: 'exhaust',
    countsInRoom: true,
    straightBefore: m('2.5'),
    straightAfter: m('0.8'),
    cyclonic: false,
  }
  const bodies = [
    { ...face, tag: 'M-210/1', kind: 'supply_filter', face: 'swirl', x: 1, y: 3, designFlow: flow('500') },
    {
      ...face,
      tag: 'M-210/2',
      kind: 'supply_filter',
      face: 'bare',
      x: 3,
      y: 3,
      designVelocity: speed('0.45'),
      grid: { rows: 2, columns: 2 },
    },
    { ...face, tag: 'M-210/3', kind: 'return_grille', face: 'grille', mounting: 'wall', x: 0, y: 1 },
    {
      ...face,
      tag: 'M-210/4',
      kind: 'duct_section',
      face: 'bare',
      mounting: 'duct',
      x: 4.5,
      y: 1,
      effectiveArea: { typed: '0.05', unit: 'm2' },
      duct,
    },
  ]
  return bodies.map((body, index) => ({ kind: 'terminal', id: id(20 + index), parentId: id(10), body }))
}

type Sensed = readonly [quantity: string, low: string, high: string, step: string, unit: string]

function instrument(number: number, name: string, sensing: string, sensed: readonly Sensed[], more: object = {}) {
  const senses = sensed.map(([quantity, low, high, step, unit]) => ({
    quantity,
    low: { typed: low, unit },
    high: { typed: high, unit },
    resolution: { typed: step, unit },
    accuracy: null,
  }))
  const body = { name, serialNumber: `INV-1${number}`, sensing, averagingTimeS: 10, basis: 'actual', senses, ...more }
  return [
    { kind: 'instrument', id: id(number), body },
    {
      kind: 'calibration',
      id: id(40 + number),
      parentId: id(number),
      body: { certificateNumber: `C-${number}`, calibratedOn: day(-40), dueOn: day(325) },
    },
  ]
}

function criterion(key: string, title: string, quantity: string, scope: string, form: object) {
  return { key, title, quantity, scope, plane: 'any', basis: 'actual', on: true, alert: null, form, source: 'common practice' }
}

/**
 * A project of one room, M-210, of 5 m x 4 m x 3 m (60 m3): a swirl diffuser for the hood, a bare filter for a grid of 2 x 2, a return grille for
 * the hood, an exhaust duct of 0.25 m x 0.2 m for a traverse of 2 x 2, a door to the corridor, and a zone of 2 m x 1.5 m. Every
 * instrument shows actual air; the hood reads swirl diffusers 5 % low. At least 14 air changes an hour, 0.36 to 0.54 m/s in the zone.
 */
export function mixedRoom(): unknown {
  const limit = (typed: string, unit: string) => ({ from: 'value', value: { typed, unit } })
  const exchange: Pick<ShortExchange, 'format' | 'formatVersion' | 'form'> & { entities: unknown[] } = {
    format: 'facegrid exchange',
    formatVersion: 1,
    form: 'short',
    entities: [
      { kind: 'project', id: id(1), body: { name: 'Mixed room', timeZone: 'Europe/Vienna' } },
      { kind: 'person', id: id(2), body: { name: MIXED_TECHNICIAN } },
      ...instrument(3, 'Anemometer Z1', 'directional', [['velocity', '0.05', '30', '0.01', 'm/s']]),
      ...instrument(4, 'Hood Z2', 'not_directional', [['flow', '50', '4000', '1', 'm3/h']], {
        hoodFactors: [
          { face: 'swirl', low: flow('100'), high: flow('800'), factor: 1.05, uncertaintyPercent: 2, reason: 'held against a traverse' },
        ],
      }),
      ...instrument(5, 'Manometer Z3', 'not_directional', [
        ['pressure_difference', '-100', '500', '0.1', 'Pa'],
        ['velocity_pressure', '0', '500', '0.1', 'Pa'],
      ]),
      {
        kind: 'criteria_set',
        id: id(7),
        body: {
          name: 'Turbulent room',
          criteria: [
            criterion('changes', 'Air changes', 'air_changes', 'room', { kind: 'at_least', limit: limit('14', '1/h') }),
            criterion('design', 'Flow against design', 'flow', 'filter', { kind: 'within_percent_of_design', percent: 15 }),
            criterion('zone_mean', 'Zone mean', 'face_velocity', 'zone', {
              kind: 'between',
              low: limit('0.36', 'm/s'),
              high: limit('0.54', 'm/s'),
            }),
          ],
        },
      },
      { kind: 'facility', id: id(9), body: { name: 'Mixing' } },
      {
        kind: 'room',
        id: id(10),
        parentId: id(9),
        body: {
          number: 'M-210',
          name: 'Mixing',
          shape: { kind: 'rectangle', x: 0, y: 0, width: 5, depth: 4 },
          ceilingHeight: m('3'),
          cleanlinessClass: 'ISO 7',
          occupancyState: 'at_rest',
          airflowType: 'non_unidirectional',
          criteriaSetId: id(7),
        },
      },
      {
        kind: 'room',
        id: id(11),
        parentId: id(9),
        body: {
          number: 'M-200',
          name: 'Corridor',
          shape: { kind: 'rectangle', x: 5, y: 0, width: 2, depth: 4 },
          ceilingHeight: m('3'),
          cleanlinessClass: 'unclassified',
          occupancyState: 'at_rest',
          airflowType: 'non_unidirectional',
        },
      },
      {
        kind: 'door',
        id: id(12),
        parentId: id(9),
        body: {
          name: 'Door M-210',
          roomIds: [id(10), id(11)],
          x: 5,
          y: 2,
          width: 1,
          rotationDegrees: 90,
          leastPressureDifference: pascal('10'),
        },
      },
      {
        kind: 'zone',
        id: id(13),
        parentId: id(10),
        body: {
          name: 'Core',
          boundary: [
            { x: 2, y: 2 },
            { x: 4, y: 2 },
            { x: 4, y: 3.5 },
            { x: 2, y: 3.5 },
          ],
          cleanlinessClass: 'ISO 5',
          occupancyState: 'at_rest',
          designVelocity: speed('0.45'),
          criteriaSetId: id(7),
        },
      },
      ...terminals(),
      {
        kind: 'certification',
        id: id(30),
        body: { name: 'This year', startsOn: day(0), endsOn: day(0), purpose: 'periodic', personIds: [id(2)], roomIds: [id(10)] },
      },
    ],
  }
  return exchange
}
