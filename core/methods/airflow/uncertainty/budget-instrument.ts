import type { GroupNumbers } from '#core/uncertainty/error-sums.ts'
import { type BudgetInstrument, instrumentGroup } from '#core/uncertainty/instrument-terms.ts'
import type { InstrumentUse } from '../instrument-use.ts'

/** An instrument as the budgets of one run see it, under the certificate in force on the day. */
export type UsedInstrument = {
  readonly budget: BudgetInstrument
  /** a certificate or the maker states how wrong it may be; without that no uncertainty is given */
  readonly stated: boolean
  readonly groups: { readonly calibration: number; readonly accuracy: number; readonly drift: number; readonly interpolation: number }
}

/**
 * What a budget takes from an instrument's record and the certificate in force, for one quantity, SI. The errors that one instrument has in
 * two quantities are two errors, and so are those under two certificates.
 */
export function budgetInstrument(use: InstrumentUse): BudgetInstrument {
  const { instrumentId, instrument, certificate, quantity, curve } = use
  const sensed = instrument?.senses.find((one) => one.quantity === quantity) ?? null
  const stated = certificate?.body.uncertainty.find((one) => one.quantity === quantity) ?? null
  return {
    instrumentId,
    certificateId: `${certificate?.id ?? ''} ${quantity}`,
    certificate: stated && {
      expandedPercentOfReading: stated.expandedPercentOfReading,
      expandedAbsolute: stated.expandedAbsolute.si,
      coverageFactor: stated.coverageFactor,
    },
    accuracy: sensed?.accuracy
      ? { form: sensed.accuracy.form, percentOfReading: sensed.accuracy.percentOfReading, absolute: sensed.accuracy.absolute.si }
      : null,
    curve,
    driftHalfWidth: certificate?.body.drift.find((one) => one.quantity === quantity)?.halfWidth.si ?? null,
    resolution: sensed?.resolution.si ?? null,
  }
}

/** Works out each use of an instrument once. */
export function usedInstruments(groups: GroupNumbers): (use: InstrumentUse) => UsedInstrument {
  const known = new Map<InstrumentUse, UsedInstrument>()
  return (use) => {
    const before = known.get(use)
    if (before) return before
    const budget = budgetInstrument(use)
    const number = (part: 'calibration' | 'accuracy' | 'drift' | 'interpolation') => groups.of(instrumentGroup(part, budget))
    const made: UsedInstrument = {
      budget,
      stated: budget.curve !== null || budget.certificate !== null || budget.accuracy !== null,
      groups: {
        calibration: number('calibration'),
        accuracy: number('accuracy'),
        drift: number('drift'),
        interpolation: number('interpolation'),
      },
    }
    known.set(use, made)
    return made
  }
}
