import { type DuctSection, ductAreaM2, equivalentDiameterM } from './rule.ts'

const LEAST_DIAMETER_M = 0.3
const LEAST_AREA_M2 = 0.071
const LEAST_AFTER = 2
const LEAST_BEFORE = 0.5
const IDEAL_AFTER = 8
const IDEAL_BEFORE = 2

/** Where the section lies. Distances in m of straight duct to the nearest bend, damper, fan or branch; null: not recorded. */
export type TraversePlace = {
  readonly straightBeforeM: number | null
  readonly straightAfterM: number | null
  /** swirl found in the duct; null: not looked for */
  readonly cyclonic: boolean | null
}

/** What stands against measuring here. `unusable` ones need a written reason to go on; `less_than_ideal` ones widen the uncertainty. */
export type PlaceRemark = {
  readonly code: 'too_small' | 'too_near_after' | 'too_near_before' | 'cyclonic' | 'short_after' | 'short_before' | 'not_recorded'
  readonly weight: 'unusable' | 'less_than_ideal'
  /** measured, in m or m2 or diameters as `limit`; null where there is no number */
  readonly found: number | null
  readonly limit: number | null
  readonly in: 'm' | 'm2' | 'diameters' | null
}

function remarkOnRun(straightM: number | null, diameterM: number, side: 'after' | 'before'): PlaceRemark[] {
  const [least, ideal] = side === 'after' ? [LEAST_AFTER, IDEAL_AFTER] : [LEAST_BEFORE, IDEAL_BEFORE]
  if (straightM === null) return []
  const found = straightM / diameterM
  if (found < least - 1e-9) return [{ code: `too_near_${side}`, weight: 'unusable', found, limit: least, in: 'diameters' }]
  if (found < ideal - 1e-9) return [{ code: `short_${side}`, weight: 'less_than_ideal', found, limit: ideal, in: 'diameters' }]
  return []
}

function remarkOnSize(section: DuctSection): PlaceRemark[] {
  if (section.shape === 'round') {
    const found = section.diameterM
    return found < LEAST_DIAMETER_M - 1e-9 ? [{ code: 'too_small', weight: 'unusable', found, limit: LEAST_DIAMETER_M, in: 'm' }] : []
  }
  const found = ductAreaM2(section)
  return found < LEAST_AREA_M2 - 1e-9 ? [{ code: 'too_small', weight: 'unusable', found, limit: LEAST_AREA_M2, in: 'm2' }] : []
}

/**
 * Checks whether a duct can be traversed where it is: not under 0.30 m in diameter (0.071 m2), not nearer than 2 diameters after or half a
 * diameter before a disturbance, no cyclonic flow; ideal are 8 diameters after and 2 before. `straightBeforeM` is the straight duct that the air
 * has behind it (it comes after a disturbance), `straightAfterM` what lies ahead. Facegrid says so and lets a person go on with a
 * reason. Source: 40 CFR 60, appendix A-1, Method 1, clauses 1.2 and 11.1 (clause 1.2 seen, the ideal distances in secondary text).
 */
export function checkTraversePlace(section: DuctSection, place: TraversePlace): PlaceRemark[] {
  const diameterM = equivalentDiameterM(section)
  const remarks = [
    ...remarkOnSize(section),
    ...remarkOnRun(place.straightBeforeM, diameterM, 'after'),
    ...remarkOnRun(place.straightAfterM, diameterM, 'before'),
  ]
  if (place.cyclonic === true) remarks.push({ code: 'cyclonic', weight: 'unusable', found: null, limit: null, in: null })
  if (place.straightBeforeM === null || place.straightAfterM === null)
    remarks.push({ code: 'not_recorded', weight: 'less_than_ideal', found: null, limit: null, in: null })
  return remarks
}
