import { polygonArea, polygonHull } from 'd3-polygon'
import { contains, outlineOf } from '#core/rooms/geometry.ts'
import { isSimpleOutline } from '#core/rooms/simple-outline.ts'
import { isKnownZone } from '#core/units/format.ts'
import { checkCriteriaSet, checkOverrides } from './criteria-rules.ts'
import type { EntityBody, EntityKind } from './entities.ts'
import { checkImportMapping } from './import-rules.ts'
import { checkCalibration, checkInstrument } from './instrument-rules.ts'
import { checkEntered, type RuleProblem } from './rule-problem.ts'
import { checkRun } from './run-rules.ts'
import { checkDoor, checkTerminal } from './terminal-rules.ts'
import type { PlanPoint } from './values.ts'

export type { RuleProblem } from './rule-problem.ts'

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
  door: checkDoor,
  air_system: (system) => [
    ...checkEntered('designSupply', system.designSupply, 'flow', 'above_zero'),
    ...checkEntered('designReturn', system.designReturn, 'flow', 'above_zero'),
    ...checkEntered('designExhaust', system.designExhaust, 'flow', 'above_zero'),
  ],
  instrument: checkInstrument,
  calibration: checkCalibration,
  criteria_set: checkCriteriaSet,
  import_mapping: checkImportMapping,
  certification: ({ startsOn, endsOn }) =>
    endsOn < startsOn ? [{ field: 'endsOn', code: 'rule.ends_before_starts', params: { startsOn, endsOn } }] : [],
  run: checkRun,
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
