import { layOutFaceGrid } from '#core/methods/airflow/layout.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Entered } from '#core/model/values.ts'
import { planRun, type RunDetail, type RunPlan } from '#renderer/readings/run-plan.ts'

export const uuid = (n: number) => `01890000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`
export const RUN = uuid(0xaaa)
export const INSTRUMENT = uuid(0xbbb)
export const PERSON = uuid(0xccc)

const metres = (si: number): Entered => ({ si, typed: String(si), unit: 'm' })
const metresPerSecond = (si: number): Entered => ({ si, typed: String(si), unit: 'm/s' })

export const room: EntityBody<'room'> = {
  number: 'T-1',
  name: '',
  shape: { kind: 'rectangle', x: 0, y: 0, width: 6, depth: 4 },
  ceilingHeight: metres(2.5),
  statedVolume: null,
  cleanlinessClass: 'ISO 5',
  occupancyState: 'at_rest',
  airflowType: 'unidirectional',
  designAirChangesPerHour: null,
  requiredAirChangesPerHour: null,
  designVelocity: metresPerSecond(0.45),
  criteriaSetId: uuid(0xddd),
  overrides: [],
  hazards: [],
  ...LATER_FIELDS.room,
  inUse: true,
  note: '',
}

export const criteriaSet: EntityBody<'criteria_set'> = {
  name: 'Test set',
  decisionRule: { kind: 'simple' },
  ...LATER_FIELDS.criteria_set,
  comparison: 'absolute',
  ...LATER_FIELDS.criteria_set,
  note: '',
  criteria: [
    {
      key: 'filter_mean',
      title: 'Filter mean',
      quantity: 'face_velocity',
      scope: 'filter',
      form: { kind: 'within_percent_of_design', percent: 20 },
      plane: 'any',
      basis: 'as_indicated',
      on: true,
      alert: null,
      source: 'common practice',
    },
    {
      key: 'filter_spread',
      title: 'Filter spread',
      quantity: 'velocity_spread',
      scope: 'filter',
      form: { kind: 'spread_at_most', percent: 15 },
      plane: 'any',
      basis: 'as_indicated',
      on: true,
      alert: null,
      source: 'common practice',
    },
  ],
}

const instrument: EntityBody<'instrument'> = {
  name: 'Probe',
  serialNumber: 'T-0001',
  senses: [
    { quantity: 'velocity', low: metresPerSecond(0.05), high: metresPerSecond(5), resolution: metresPerSecond(0.01), accuracy: null },
  ],
  sensing: 'directional',
  reportsReverseFlow: false,
  ...LATER_FIELDS.instrument,
  averagingTimeS: 5,
  basis: 'as_indicated',
  active: true,
  note: '',
}

function terminal(tag: string, x: number): EntityBody<'terminal'> {
  return {
    tag,
    kind: 'supply_filter',
    zoneId: null,
    x,
    y: 2,
    rotationDegrees: 0,
    mounting: 'ceiling',
    grossWidth: metres(0.61),
    grossDepth: metres(0.61),
    effectiveArea: { si: 0.3, typed: '0.3', unit: 'm2' },
    face: 'bare',
    airSource: 'air_handler',
    designVelocity: null,
    designFlow: null,
    correctionFactor: null,
    grid: { rows: 3, columns: 3 },
    closed: null,
    ...LATER_FIELDS.terminal,
    note: '',
  }
}

function pinned<K extends Entity['kind']>(kind: K, id: string, body: EntityBody<K>, parentId: string | null = null): Entity {
  // Kind and body belong together by the signature.
  return { kind, id, parentId, revision: 1, removed: false, body } as Entity
}

/** A run over so many 3 x 3 filters in a row, with its instrument in calibration. */
export function runDetail(filters: number, run: Partial<EntityBody<'run'>> = {}): RunDetail {
  const terminals = Array.from({ length: filters }, (_, index) => ({
    id: uuid(index + 1),
    revision: 1,
    body: terminal(`T-1/${index + 1}`, 0.5 + index),
  }))
  return {
    run: pinned('run', RUN, {
      roomId: uuid(0x1000),
      zoneId: null,
      method: 'face_velocity_grid',
      phase: 'as_found',
      plane: { kind: 'filter_face', distanceM: 0.15 },
      occupancyState: 'at_rest',
      operatingState: { airHandler: '', doors: '', equipment: '' },
      facingDegrees: 0,
      unit: 'm/s',
      averagingTimeS: 5,
      samplesPerPoint: 1,
      conditions: { temperature: null, relativeHumidity: null, pressure: null },
      cautionsRead: [],
      ...LATER_FIELDS.run,
      missing: [],
      state: 'open',
      note: '',
      ...run,
    }),
    pins: [
      pinned('room', uuid(0x1000), room),
      pinned('criteria_set', uuid(0xddd), criteriaSet),
      pinned('instrument', INSTRUMENT, instrument),
      pinned(
        'calibration',
        uuid(0xeee),
        {
          certificateNumber: 'C-1',
          laboratory: '',
          calibratedOn: '2026-01-05',
          dueOn: '2027-01-04',
          range: null,
          foundInTolerance: null,
          ...LATER_FIELDS.calibration,
          release: null,
          note: '',
        },
        INSTRUMENT,
      ),
      ...terminals.map(({ id, body }) => pinned('terminal', id, body)),
    ],
    stale: [],
    locations: layOutFaceGrid({ terminals, facingDegrees: 0, gridFor: new Map() }),
    readings: [],
  }
}

export function planOf(detail: RunDetail): RunPlan {
  const plan = planRun(detail)
  if (!plan) throw new Error('not a run')
  return plan
}
