import { polygonArea, polygonHull } from 'd3-polygon'
import { contains, outlineOf } from '#core/rooms/geometry.ts'
import { isSimpleOutline } from '#core/rooms/simple-outline.ts'
import { isKnownZone } from '#core/units/format.ts'
import { checkCriteriaSet, checkOverrides } from './criteria-rules.ts'
import type { EntityBody, EntityKind } from './entities.ts'
import { checkEntered, checkRange, checkUnique, DIMENSION_OF_QUANTITY, type RuleProblem } from './rule-problem.ts'
import type { PlanPoint } from './values.ts'

export type { RuleProblem } from './rule-problem.ts'

/** Effective and gross area of one face, both typed, may differ in the last digit of a conversion. */
const AREA_TOLERANCE = 1e-9

function checkOutline(field: string, corners: readonly PlanPoint[]): RuleProblem[] {
  if (isSimpleOutline(corners)) return []
  // Corners all on one line enclose nothing; any other outline that is not simple crosses or touches itself.
  const hull = polygonHull(corners.map(({ x, y }): [number, number] => [x, y]))
  const spans = hull !== null && Math.abs(polygonArea(hull)) > 0
  return [{ field, code: spans ? 'rule.outline_crosses' : 'rule.outline_without_area', params: {} }]
}

function checkRoom(room: EntityBody<'room'>): RuleProblem[] {
  return [
    ...(room.shape.kind === 'polygon' ? checkOutline('shape.points', room.shape.points) : []),
    ...checkEntered('ceilingHeight', room.ceilingHeight, 'length', 'above_zero'),
    ...checkEntered('statedVolume.volume', room.statedVolume?.volume ?? null, 'volume', 'above_zero'),
    ...checkEntered('designVelocity', room.designVelocity, 'velocity', 'above_zero'),
    ...checkOverrides(room.overrides),
  ]
}

function checkTerminal(terminal: EntityBody<'terminal'>): RuleProblem[] {
  const { grossWidth, grossDepth, effectiveArea } = terminal
  const sizes = [
    ...checkEntered('grossWidth', grossWidth, 'length', 'above_zero'),
    ...checkEntered('grossDepth', grossDepth, 'length', 'above_zero'),
    ...checkEntered('effectiveArea', effectiveArea, 'area', 'above_zero'),
  ]
  const grossM2 = grossWidth.si * grossDepth.si
  if (sizes.length === 0 && effectiveArea.si > grossM2 * (1 + AREA_TOLERANCE)) {
    const params = { effectiveM2: effectiveArea.si, grossM2 }
    sizes.push({ field: 'effectiveArea', code: 'rule.effective_above_gross', params })
  }
  return [
    ...sizes,
    ...checkEntered('designVelocity', terminal.designVelocity, 'velocity', 'above_zero'),
    ...checkEntered('designFlow', terminal.designFlow, 'flow', 'above_zero'),
  ]
}

function checkInstrument(instrument: EntityBody<'instrument'>): RuleProblem[] {
  const quantities = instrument.senses.map((sensed) => sensed.quantity)
  return [
    ...checkUnique(quantities, (index) => `senses.${index}.quantity`),
    ...instrument.senses.flatMap((sensed, index) => {
      const dimension = DIMENSION_OF_QUANTITY[sensed.quantity]
      // A step of 1 degF, entered as a temperature, has an SI value below zero; its sign says nothing.
      const signed = dimension !== 'temperature'
      return [
        ...checkRange(`senses.${index}.`, sensed.low, sensed.high, dimension),
        ...checkEntered(`senses.${index}.resolution`, sensed.resolution, dimension, signed ? 'above_zero' : 'any'),
        ...checkEntered(
          `senses.${index}.accuracy.absolute`,
          sensed.accuracy?.absolute ?? null,
          dimension,
          signed ? 'not_below_zero' : 'any',
        ),
      ]
    }),
  ]
}

function checkCalibration({ calibratedOn, dueOn, range }: EntityBody<'calibration'>): RuleProblem[] {
  const dates: RuleProblem[] =
    dueOn < calibratedOn ? [{ field: 'dueOn', code: 'rule.due_before_calibrated', params: { calibratedOn, dueOn } }] : []
  return range ? [...dates, ...checkRange('range.', range.low, range.high, DIMENSION_OF_QUANTITY[range.quantity])] : dates
}

const CHECKS: { readonly [K in EntityKind]: (body: EntityBody<K>) => RuleProblem[] } = {
  project: ({ timeZone }) => (isKnownZone(timeZone) ? [] : [{ field: 'timeZone', code: 'rule.unknown_time_zone', params: { timeZone } }]),
  person: () => [],
  facility: () => [],
  room: checkRoom,
  zone: (zone) => [
    ...checkOutline('boundary', zone.boundary),
    ...checkEntered('designVelocity', zone.designVelocity, 'velocity', 'above_zero'),
    ...checkOverrides(zone.overrides),
  ],
  terminal: checkTerminal,
  filter_element: ({ installedOn, removedOn }) =>
    removedOn !== null && removedOn < installedOn
      ? [{ field: 'removedOn', code: 'rule.removed_before_installed', params: { installedOn, removedOn } }]
      : [],
  door: (door) => [
    ...(door.roomIds[0] === door.roomIds[1] ? [{ field: 'roomIds', code: 'rule.same_room_twice', params: {} } as const] : []),
    ...checkEntered('leastPressureDifference', door.leastPressureDifference, 'pressure'),
  ],
  air_system: (system) => [
    ...checkEntered('designSupply', system.designSupply, 'flow', 'above_zero'),
    ...checkEntered('designReturn', system.designReturn, 'flow', 'above_zero'),
    ...checkEntered('designExhaust', system.designExhaust, 'flow', 'above_zero'),
  ],
  instrument: checkInstrument,
  calibration: checkCalibration,
  criteria_set: checkCriteriaSet,
  certification: ({ startsOn, endsOn }) =>
    endsOn < startsOn ? [{ field: 'endsOn', code: 'rule.ends_before_starts', params: { startsOn, endsOn } }] : [],
  run: (run) => [
    ...checkEntered('unit', { si: 0, typed: '0', unit: run.unit }, 'velocity'),
    ...checkEntered('conditions.temperature', run.conditions.temperature, 'temperature'),
    ...checkEntered('conditions.relativeHumidity', run.conditions.relativeHumidity, 'percent', 'not_below_zero'),
    ...checkEntered('conditions.pressure', run.conditions.pressure, 'pressure', 'above_zero'),
  ],
}

/**
 * Invariants of one entity's body beyond its schema; an empty list when all hold. The body must have passed the schema of its
 * kind. Each problem names its field, so that the page marks it and keeps what was typed. Effective area, ceiling height and
 * volumes above zero, effective area at most the gross face, ranges in order, outlines that enclose an area without crossing
 * themselves, dates in order, units of the dimension that the field asks for, and texts that say the same as their values.
 */
export function checkBody<K extends EntityKind>(kind: K, body: EntityBody<K>): RuleProblem[] {
  return CHECKS[kind](body)
}

/** A zone's corners must lie in its room or on its walls; each one that does not is named, counted from 1. */
export function checkZoneInRoom(zone: EntityBody<'zone'>, room: EntityBody<'room'>): RuleProblem[] {
  const outline = outlineOf(room.shape)
  return zone.boundary.flatMap((point, index): RuleProblem[] =>
    contains(outline, point) ? [] : [{ field: `boundary.${index}`, code: 'rule.outside_room', params: { corner: index + 1 } }],
  )
}
