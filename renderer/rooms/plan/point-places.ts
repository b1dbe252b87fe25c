import type { Location } from '#core/model/readings.ts'
import type { PlanPoint } from '#core/model/values.ts'

/** Where a measuring point of a ceiling terminal lies on the plan: offsets are plan right and plan up already, whatever way the face is turned. */
export const pointPlace = (centre: PlanPoint, location: Pick<Location, 'offsetXM' | 'offsetYM'>): PlanPoint => ({
  x: centre.x + location.offsetXM,
  y: centre.y + location.offsetYM,
})
