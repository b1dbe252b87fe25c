import { type Evidence, notApplicable } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import { noVerdicts, tally, worstOfCounts } from '#core/criteria/roll-up.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionResult, RoomFigures, RunResult, ZoneResult } from '#core/model/results.ts'
import { roomVolumeM3 } from '#core/rooms/geometry.ts'
import { CALCULATION_VERSION } from '../calculation-version.ts'
import type { Method, Pinned, RunInput } from '../method.ts'
import { airOf, airResult } from './air-of-run.ts'
import { airflowCautions } from './cautions.ts'
import type { FilterFigures } from './filter-figures.ts'
import { gather } from './gather.ts'
import { judgeOnPoints } from './judge-filter.ts'
import { areaOnBases, filterOnBases, mainOf, type OnBases } from './on-bases.ts'
import { asOneFace } from './plane-face.ts'
import { layOutPlane } from './plane-layout.ts'
import { pointsWithin, shareWithin, type Within } from './point-limits.ts'
import { rulesInForce } from './rules-in-force.ts'
import { runHeadline } from './run-headline.ts'
import { runErrors, settingsOf } from './uncertainty/figure-uncertainty.ts'
import { type ZoneInRun, zoneResult } from './zone-results.ts'

function planeFigures(input: RunInput, face: Pinned<'terminal'>, zone: Pinned<'zone'>, mayReadReverse: boolean): OnBases<FilterFigures> {
  const [gathered] = gather(input, [{ terminal: face, way: 'face_grid' }], airOf(input))
  if (!gathered) throw new Error('one face gives one set of readings')
  const { missing } = input.run
  const zones = new Map([[zone.id, zone.body]])
  return filterOnBases(gathered, { room: input.room.body, zones, missing, givesFlow: false, mayReadReverse })
}

/** The cells of the plane in path order, on the basis of the main figures. */
function cellsOf(plane: OnBases<FilterFigures>, within: Within): ZoneResult['planeCells'] {
  const { points } = mainOf(plane)
  const places = new Map(points.numbers.map((number, index) => [number, index]))
  return points.planned.map(({ number }) => {
    const index = places.get(number)
    return {
      point: number,
      meanMps: index === undefined ? null : (points.meansMps[index] ?? null),
      within: index === undefined ? null : (within[index] ?? null),
    }
  })
}

/** Criteria about points are held against every point of the plane; those about the single filter have no subject here. */
function judgedPoints(zone: ZoneInRun, plane: OnBases<FilterFigures>): CriterionResult[] {
  return zone.criteria.flatMap((criterion) => {
    const { form } = criterion
    if (form.kind === 'each_within_percent_of_mean') return form.of === 'zone' ? [judgeOnPoints(criterion, plane, zone.area)] : []
    return criterion.scope === 'point' ? [judgeOnPoints(criterion, plane, zone.area)] : []
  })
}

function planeZone(zone: ZoneInRun, plane: OnBases<FilterFigures>): ZoneResult {
  const base = zoneResult(zone, noVerdicts(), false)
  const ofPlane = zone.criteria.filter(({ form }) => form.kind !== 'each_within_percent_of_mean' || form.of === 'zone')
  const within = pointsWithin(ofPlane, plane, zone.area)
  const ofPoints = judgedPoints(zone, plane)
  const counts = { ...base.counts }
  tally(counts, ofPoints)
  return {
    ...base,
    pointsWithinPercent: shareWithin(within),
    planeCells: cellsOf(plane, within),
    criteria: [...base.criteria, ...ofPoints],
    counts,
    verdict: worstOfCounts(counts),
  }
}

/** Criteria on the room as a whole, of which a plane of one zone tells nothing. */
function outOfReach(criterion: PreparedCriterion, roomId: string): CriterionResult {
  const { title, source } = criterion
  const evidence: Evidence = {
    subjectId: roomId,
    value: null,
    none: null,
    outside: null,
    gap: null,
    leastPossible: null,
    uncertainty: null,
    design: null,
    reversed: 0,
    allBelowRange: false,
    uncovered: [],
    released: [],
  }
  return notApplicable(criterion, evidence, criterion.excluded ?? message('reason.part_of_room', { title, source }))
}

const NOTHING_OF_THE_ROOM: Omit<RoomFigures, 'volumeM3' | 'basis'> = {
  areaWeightedMeanVelocityMps: null,
  supplyFlowM3ps: null,
  supplySoFar: { flowM3ps: 0, terminals: 0, of: 0 },
  airChangesPerHour: null,
  outsideAirChangesPerHour: null,
  filterToFilterRsdPercent: null,
  designFlowM3ps: null,
  percentOfDesign: null,
  byBasis: null,
  balance: null,
  uncertainty: null,
}

/**
 * Computes a run over the plane of one unidirectional zone, at the filter face or at working height: mean, spread, largest deviation, the share of
 * points within the limits for points, and every criterion of the zone and its points. Equal cells; no flow, since what passes the plane is no
 * one filter's air. SI inside, on the bases as {@link computeAirflow}. A run whose zone is not pinned has no zone result and reads not tested.
 */
export function computePlane(given: RunInput): RunResult {
  const { run, room } = given
  const pinned = given.zones.find(({ id }) => id === run.zoneId) ?? null
  const mayReadReverse = given.instruments.some((instrument) => instrument.body.reportsReverseFlow)
  const zones: ZoneResult[] = []
  if (pinned) {
    const { input, face } = asOneFace(given, pinned)
    const plane = planeFigures(input, face, pinned, mayReadReverse)
    zones.push(
      planeZone(
        {
          id: pinned.id,
          name: pinned.body.name,
          designVelocity: pinned.body.designVelocity ?? room.body.designVelocity,
          criteria: rulesInForce(given).zones.get(pinned.id) ?? [],
          area: areaOnBases([plane], mayReadReverse),
          faces: [],
          partOnly: false,
          errors: runErrors(given, airOf(given)),
          settings: settingsOf(given, pinned.id),
        },
        plane,
      ),
    )
  }
  const basis = zones[0]?.basis ?? 'as_indicated'
  const roomCriteria = rulesInForce(given)
    .room.filter(({ scope, form }) => scope === 'room' && form.kind !== 'each_within_percent_of_mean')
    .map((criterion) => outOfReach(criterion, room.id))
  const counts = noVerdicts()
  tally(counts, roomCriteria)
  for (const zone of zones) tally(counts, zone.criteria)
  const verdict = worstOfCounts(counts)
  const parts = { filters: [], zones, roomCriteria }
  return {
    runId: given.runId,
    roomId: room.id,
    zoneId: run.zoneId,
    calculationVersion: CALCULATION_VERSION,
    basis,
    phase: run.phase,
    plane: run.plane,
    occupancyState: run.occupancyState,
    criteriaSetId: given.criteriaSet?.id ?? null,
    criteriaSetRevision: given.criteriaSet?.revision ?? null,
    ...parts,
    doors: [],
    air: airResult(airOf(given), given),
    notes: [],
    room: { volumeM3: roomVolumeM3(room.body), basis, ...NOTHING_OF_THE_ROOM },
    verdict,
    counts,
    headline: runHeadline(verdict, counts, parts, room.body.number),
  }
}

/** Velocities on a grid over the plane of a unidirectional zone, independent of filter edges. */
export const planeVelocityGrid: Method = {
  id: 'plane_velocity_grid',
  records: 'velocity',
  recordsAt: () => 'velocity',
  balancesRoom: false,
  wayAt: () => null,
  measures: () => false,
  layOut: layOutPlane,
  compute: computePlane,
  cautions: airflowCautions,
}
