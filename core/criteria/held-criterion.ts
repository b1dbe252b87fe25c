import type { Held } from '#core/messages/en/results.ts'
import type { CriterionResult, Sentence } from '#core/model/results.ts'
import type { Stance } from './stance.ts'

/** What is needed to name a judged criterion: its title, and the place that its reason says it was held at where that is no plane of a filter. */
export function heldCriterion({ title, reason }: Pick<CriterionResult, 'title' | 'reason'>): Held {
  const { stance, otherwise } = reason.params
  // Reasons are made in core/criteria: their stance is a Stance, and what a reason would say otherwise is a reason.
  const own = (stance ?? (otherwise as Sentence | undefined)?.params.stance) as Stance | undefined
  return own?.at ? { title, stance: { at: own.at } } : { title }
}
