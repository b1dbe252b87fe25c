/** Sign of a room against what lies behind a door: its air leaves (positive), comes in (negative), or neither can be said. */
export type PressureSign = 'positive' | 'negative' | 'undecided'

export type PressureDirection = {
  /** what the door has to keep, from the sign of its least pressure difference; null where none is asked */
  readonly wanted: PressureSign | null
  /** what the air balance lets expect, null without a balance */
  readonly expected: PressureSign | null
  /** what was measured over the door, null without a measurement */
  readonly measured: PressureSign | null
  readonly measuredAgainstWanted: Agreement
  readonly measuredAgainstBalance: Agreement
}

export type Agreement = 'agrees' | 'disagrees' | 'cannot_tell'

/** Against the balance. `both_ways`: this door contradicts it and another one does not, as in a room between a higher and a lower neighbour. */
export type BalanceAgreement = Agreement | 'both_ways'

/**
 * The doors of one room held against its balance together. A balance is about all the air that leaves or enters: it is contradicted only where
 * every door whose direction was measured goes the other way; where air goes both ways a door that contradicts it cannot be told. Source:
 * conservation of mass; common practice.
 */
export function againstBalance(doors: readonly Pick<PressureDirection, 'measuredAgainstBalance'>[]): BalanceAgreement[] {
  const someAgree = doors.some(({ measuredAgainstBalance }) => measuredAgainstBalance === 'agrees')
  return doors.map(({ measuredAgainstBalance: own }) => (own === 'disagrees' && someAgree ? 'both_ways' : own))
}

function signOf(value: number | null, doubt: number): PressureSign | null {
  if (value === null) return null
  if (Math.abs(value) <= doubt) return 'undecided'
  return value > 0 ? 'positive' : 'negative'
}

function agreement(measured: PressureSign | null, other: PressureSign | null): Agreement {
  if (measured === null || other === null || measured === 'undecided' || other === 'undecided') return 'cannot_tell'
  return measured === other ? 'agrees' : 'disagrees'
}

/**
 * Holds the measured pressure direction of a room against the wanted one and against its air balance. Offset in standard m3/s, positive when
 * the room gives air; pressures in Pa, positive when the room is above what lies behind the door. Each doubt is the expanded
 * uncertainty (or resolution) within which a sign means nothing. A room with several doors may give air through one and take it through
 * another: {@link againstBalance} looks at all of them. A disagreement with the balance is a question, not a verdict. Source: common
 * practice.
 */
export function pressureDirection(input: {
  readonly offsetM3ps: number | null
  readonly offsetDoubtM3ps: number
  readonly wantedPa: number | null
  readonly measuredPa: number | null
  readonly measuredDoubtPa: number
}): PressureDirection {
  const wanted = signOf(input.wantedPa, 0)
  const expected = signOf(input.offsetM3ps, input.offsetDoubtM3ps)
  const measured = signOf(input.measuredPa, input.measuredDoubtPa)
  return {
    wanted,
    expected,
    measured,
    measuredAgainstWanted: agreement(measured, wanted),
    measuredAgainstBalance: agreement(measured, expected),
  }
}
