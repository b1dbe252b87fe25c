import type { Evidence, NoFigure } from '#core/criteria/judge.ts'
import { judgeFigure } from '#core/criteria/judge.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import { message } from '#core/messages/say.ts'
import type { CriterionResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { NO_READING } from './filter-evidence.ts'
import { lacking } from './on-bases.ts'
import type { AirBalance } from './room-balance.ts'

const NO_SUPPLY: NoFigure = {
  verdict: 'not_tested',
  reason: ({ title, source }) => message('reason.no_supply', { title, source }),
}

/** The offset that a criterion is held against, on its basis; null where there is none, or it cannot be had. */
function offsetOn(balance: AirBalance, { quantity, stance }: PreparedCriterion): number | null {
  const own = stance.basis === 'as_indicated' ? balance.asIndicated : balance.mass
  if (quantity === 'air_offset_percent') return own?.offsetPercentOfSupply ?? null
  return (stance.basis === 'actual' ? own?.offsetAtRoomM3ps : own?.offsetM3ps) ?? null
}

/** Whether conditions that the criterion's basis needs are lacking, and which. */
function lackFor(balance: AirBalance, { quantity, stance }: PreparedCriterion) {
  if (stance.basis === 'as_indicated') return null
  if (balance.lack) return balance.lack
  const noDensity = balance.mass?.offsetM3ps != null && balance.mass.offsetAtRoomM3ps === null
  return noDensity && stance.basis === 'actual' && quantity === 'air_offset' ? 'conditions' : null
}

/**
 * Holds the room's offset, m3/s or percent of supply, against a criterion: at the density of the room's air, as standard flow, or as
 * indicated, as the criterion asks. Percent of supply is the same for standard and actual air.
 */
export function judgeOffset(
  criterion: PreparedCriterion,
  roomId: Uuid,
  balance: AirBalance,
  uncertainty: Evidence['uncertainty'],
): CriterionResult {
  const { gap, reversed, allBelowRange, uncovered, released } = balance.crossing.as_indicated
  const isPercent = criterion.quantity === 'air_offset_percent'
  const evidence: Evidence = {
    subjectId: roomId,
    value: offsetOn(balance, criterion),
    none: isPercent && balance.asIndicated.offsetM3ps !== null ? NO_SUPPLY : NO_READING,
    outside: null,
    gap,
    leastPossible: null,
    uncertainty,
    design: null,
    reversed,
    allBelowRange,
    uncovered,
    released,
  }
  return judgeFigure(lacking(criterion, lackFor(balance, criterion)), evidence)
}
