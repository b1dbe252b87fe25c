import type { EntityBody } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'

/** Days on which an instrument's readings are in doubt, both included, and the certificate that found it out of tolerance. */
export type DaysInDoubt = {
  readonly from: string | null
  readonly to: string
  readonly certificateNumber: string
  /** number of a deviation written on that certificate, or null */
  readonly deviation: string | null
}

/**
 * The days in doubt of one instrument: from its last calibration before one that found it out of tolerance (null: since ever) to
 * that one. Calibrations may come in any order; dates are calendar dates at the site. Source: the house's rule A3 (common practice).
 */
export function daysInDoubt(calibrations: readonly EntityBody<'calibration'>[]): DaysInDoubt[] {
  const inOrder = [...calibrations].sort((a, b) => (a.calibratedOn < b.calibratedOn ? -1 : a.calibratedOn > b.calibratedOn ? 1 : 0))
  return inOrder.flatMap(({ foundInTolerance, calibratedOn, certificateNumber, release }, index) =>
    foundInTolerance === false
      ? [{ from: inOrder[index - 1]?.calibratedOn ?? null, to: calibratedOn, certificateNumber, deviation: release?.number ?? null }]
      : [],
  )
}

/** A run and the days on which each instrument was read in it. */
export type InstrumentDays = { readonly runId: Uuid; readonly uses: readonly { readonly instrumentId: Uuid; readonly on: string }[] }

/** The runs whose readings each certificate of an instrument puts in doubt, for the impact to be assessed; runs in the order given. */
export function runsInDoubt(
  instrumentId: Uuid,
  calibrations: readonly EntityBody<'calibration'>[],
  runs: readonly InstrumentDays[],
): (DaysInDoubt & { readonly runIds: readonly Uuid[] })[] {
  return daysInDoubt(calibrations).map((days) => {
    const doubtful = (on: string) => (days.from === null || on >= days.from) && on <= days.to
    const used = runs.filter((run) => run.uses.some((use) => use.instrumentId === instrumentId && doubtful(use.on)))
    return { ...days, runIds: used.map(({ runId }) => runId) }
  })
}
