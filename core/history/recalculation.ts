import type { KeyFigures } from '#core/api/recalculation.ts'
import type { MeasuredValue, RunInput } from '#core/methods/method.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'

/** Readings of one instrument between two days at the site, both included; null: since ever. */
export type Doubt = { readonly instrumentId: Uuid; readonly from: string | null; readonly to: string }

function isDoubtful({ instrumentId, localDate }: MeasuredValue, doubt: Doubt): boolean {
  return instrumentId === doubt.instrumentId && (doubt.from === null || localDate >= doubt.from) && localDate <= doubt.to
}

/** How many readings of a run are in doubt. */
export function readingsInDoubt({ values }: Pick<RunInput, 'values'>, doubt: Doubt): number {
  return values.filter((value) => isDoubtful(value, doubt)).length
}

/** The same run without the readings in doubt: its points then count as not measured. Changes nothing that is stored. */
export function withoutDoubt(input: RunInput, doubt: Doubt): RunInput {
  return { ...input, values: input.values.filter((value) => !isDoubtful(value, doubt)) }
}

/**
 * The same run with the readings in doubt corrected by the points of the certificate that found the instrument out of tolerance: those points say what it
 * showed and what was true as it was found, and take the place of the points of the certificates before. Their uncertainty enters the
 * budget as for any correction by points; a drift that was stated before was exceeded, so that where the instrument has an accuracy statement that
 * one stands in its place. Null where the points have none of the quantities in doubt. Changes nothing that is stored.
 * Source: the house's rule A3 (common practice).
 */
export function correctedDoubt(input: RunInput, doubt: Doubt, points: EntityBody<'calibration'>['points']): RunInput | null {
  const instrument = input.instruments.find(({ id }) => id === doubt.instrumentId)
  const doubtful = input.values.filter((value) => isDoubtful(value, doubt))
  const quantities = new Set(doubtful.map(({ quantity }) => quantity ?? 'velocity'))
  if (!instrument || !points.some(({ quantity }) => quantities.has(quantity))) return null
  // Readings outside the days in doubt keep the instrument as it was: the corrected ones are of an instrument of their own.
  const hasAccuracy = new Set(instrument.body.senses.flatMap(({ quantity, accuracy }) => (accuracy ? [quantity] : [])))
  const asFoundId = `${doubt.instrumentId} as found`
  return {
    ...input,
    instruments: [...input.instruments, { ...instrument, id: asFoundId, body: { ...instrument.body, correctsByPoints: true } }],
    calibrations: [
      ...input.calibrations,
      ...input.calibrations
        .filter(({ instrumentId }) => instrumentId === doubt.instrumentId)
        .map((calibration) => ({
          ...calibration,
          instrumentId: asFoundId,
          body: {
            ...calibration.body,
            points,
            drift: calibration.body.drift.filter(({ quantity }) => !hasAccuracy.has(quantity)),
          },
        })),
    ],
    values: input.values.map((value) => (isDoubtful(value, doubt) ? { ...value, instrumentId: asFoundId } : value)),
  }
}

/** What a reader looks at first in a result. */
export function keyFigures(result: RunResult): KeyFigures {
  return {
    verdict: result.verdict,
    meanVelocityMps: result.room.areaWeightedMeanVelocityMps,
    supplyFlowM3ps: result.room.supplyFlowM3ps,
    airChangesPerHour: result.room.airChangesPerHour,
    offsetM3ps: result.room.balance?.offsetM3ps ?? null,
    failing: result.counts.fail,
  }
}
