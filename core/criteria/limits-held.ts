import type { CriterionResult } from '#core/model/results.ts'

/** The limits, SI, that a figure of a filter, zone or room is held against: it is printed on the side of them that it was judged on. */
export function limitsHeld(criteria: readonly CriterionResult[], quantity: CriterionResult['quantity']): number[] {
  return criteria
    .filter((criterion) => criterion.quantity === quantity && criterion.scope !== 'point' && criterion.point === null)
    .flatMap(({ low, high }) => [low, high])
    .filter((limit) => limit !== null)
}

/** The air changes per hour that a room must have, as limits that its figure is printed against; its own criteria may know others. */
export function airChangesAsked(room: { readonly requiredAirChangesPerHour: number | null }): number[] {
  return room.requiredAirChangesPerHour === null ? [] : [room.requiredAirChangesPerHour]
}
