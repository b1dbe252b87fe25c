import type { EntityBody } from '#core/model/entities.ts'
import type { Quantity, Uuid } from '#core/model/values.ts'
import { type CalibrationCurve, calibrationCurve } from '#core/uncertainty/calibration-points.ts'
import type { HoodFactor } from '../hood/hood-flow.ts'
import type { Pinned, RunInput } from '../method.ts'
import type { RunAir } from './air-of-run.ts'
import { type Cover, coverOf } from './calibration-cover.ts'
import { type InstrumentConversion, instrumentConversion } from './instrument-conversion.ts'

/** One instrument reading one quantity on one calendar day at the site: what its readings may be trusted with, and what becomes of them. */
export type InstrumentUse = Cover & {
  readonly instrumentId: Uuid
  readonly instrument: EntityBody<'instrument'> | null
  readonly quantity: Quantity
  /** the certificate in force on that day */
  readonly certificate: Pinned<'calibration'> | null
  readonly conversion: InstrumentConversion
  /** corrects the readings as indicated; null where the instrument is not corrected by points, or the certificate has none for the quantity */
  readonly curve: CalibrationCurve | null
  readonly hoodFactors: readonly HoodFactor[]
}

function curveOf(instrument: EntityBody<'instrument'> | null, certificate: Pinned<'calibration'> | null, quantity: Quantity) {
  if (!instrument?.correctsByPoints || !certificate) return null
  const points = certificate.body.points.filter((point) => point.quantity === quantity)
  return calibrationCurve(
    points.map(({ reading, trueValue, expandedUncertainty, coverageFactor }) => ({
      reading: reading.si,
      trueValue: trueValue.si,
      expandedUncertainty: expandedUncertainty.si,
      coverageFactor,
    })),
  )
}

function hoodFactorsOf(instrument: EntityBody<'instrument'> | null, quantity: Quantity): HoodFactor[] {
  if (!instrument || quantity !== 'flow') return []
  return instrument.hoodFactors.map(({ face, low, high, factor, uncertaintyPercent, reason }) => ({
    face,
    lowM3ps: low.si,
    highM3ps: high.si,
    factor,
    relativeUncertainty: uncertaintyPercent === null ? null : uncertaintyPercent / 100 / Math.sqrt(3),
    reason,
  }))
}

/** Looks up the uses of one quantity in one run, each instrument and day worked out once. */
export function lookUpUses(
  input: Pick<RunInput, 'instruments' | 'calibrations'>,
  quantity: Quantity,
  air: RunAir,
): (instrumentId: Uuid, on: string) => InstrumentUse {
  const instruments = new Map(input.instruments.map((pinned) => [pinned.id, pinned.body]))
  const calibrations = new Map<Uuid, Pinned<'calibration'>[]>()
  for (const calibration of input.calibrations) {
    const list = calibrations.get(calibration.instrumentId)
    if (list) list.push(calibration)
    else calibrations.set(calibration.instrumentId, [calibration])
  }
  const uses = new Map<Uuid, Map<string, InstrumentUse>>()
  const made = (instrumentId: Uuid, on: string): InstrumentUse => {
    const instrument = instruments.get(instrumentId) ?? null
    const own = calibrations.get(instrumentId) ?? []
    const cover = coverOf(
      instrument,
      own.map(({ body }) => body),
      quantity,
      on,
    )
    const certificate = own.find(({ body }) => body === cover.calibration) ?? null
    return {
      ...cover,
      instrumentId,
      instrument,
      quantity,
      certificate,
      conversion: instrumentConversion(instrument, air),
      curve: curveOf(instrument, certificate, quantity),
      hoodFactors: hoodFactorsOf(instrument, quantity),
    }
  }
  let lastInstrument = ''
  let lastDay = ''
  let last: InstrumentUse | null = null
  return (instrumentId, on) => {
    // One instrument on one day, reading after reading: the usual case needs no look-up.
    if (last !== null && instrumentId === lastInstrument && on === lastDay) return last
    const days = uses.get(instrumentId) ?? new Map<string, InstrumentUse>()
    uses.set(instrumentId, days)
    const use = days.get(on) ?? made(instrumentId, on)
    days.set(on, use)
    lastInstrument = instrumentId
    lastDay = on
    last = use
    return use
  }
}
