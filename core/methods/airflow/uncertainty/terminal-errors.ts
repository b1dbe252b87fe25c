import type { UncertaintySettings } from '#core/model/criteria.ts'
import type { Basis } from '#core/model/values.ts'
import { accuracyHalfWidth } from '#core/uncertainty/accuracy.ts'
import { correctReading } from '#core/uncertainty/calibration-points.ts'
import { type ErrorSums, ErrorTotal, NO_ERROR } from '#core/uncertainty/error-sums.ts'
import { driftHalfWidth } from '#core/uncertainty/instrument-terms.ts'
import { HALF_WIDTH_DIVISOR } from '#core/uncertainty/term.ts'
import type { Gathered, ReadingsOfUse } from '../gather.ts'
import { type BudgetBook, DENSITY_GROUP, INSTRUMENT_DENSITY_GROUP, relativeOf } from './budget-book.ts'
import type { UsedInstrument } from './budget-instrument.ts'
import { type Slopes, slopesOf } from './reading-slopes.ts'

/** The figures of one terminal on one basis, as far as its budget needs them. */
export type TerminalOnBasis = {
  readonly basis: Basis
  /** m/s, or m3/s where the way gives flows */
  readonly mean: number
  /** of the points or repeats, n - 1; null below two */
  readonly deviation: number | null
  readonly points: number
  readonly flowM3ps: number | null
  readonly areaM2: number
  readonly correctionFactor: number
}

const RECTANGLE = HALF_WIDTH_DIVISOR.rectangular

type Sizes = { calibration: number; accuracy: number; interpolation: number; drift: number; slopes: number }

/** Sizes of the errors times the slopes, summed over the readings. */
function sizesOf({ budget }: UsedInstrument, { indicated }: ReadingsOfUse, { slope }: Slopes): Sizes {
  const sizes: Sizes = { calibration: 0, accuracy: 0, interpolation: 0, drift: 0, slopes: 0 }
  const { curve, certificate, accuracy } = budget
  const plain = typeof slope === 'number' ? slope : 0
  const each = typeof slope === 'number' ? null : slope
  for (let i = 0; i < indicated.length; i += 1) {
    const reading = indicated[i] ?? 0
    const by = each ? (each[i] ?? 0) : plain
    sizes.slopes += by
    if (curve) {
      const corrected = correctReading(curve, reading)
      sizes.calibration += corrected.calibrationUncertainty * by
      sizes.interpolation += corrected.interpolationHalfWidth * by
      sizes.drift += driftHalfWidth(budget, reading) * by
      continue
    }
    if (certificate) {
      const expanded = (certificate.expandedPercentOfReading / 100) * Math.abs(reading) + certificate.expandedAbsolute
      sizes.calibration += (expanded / certificate.coverageFactor) * by
    }
    if (accuracy) sizes.accuracy += accuracyHalfWidth(accuracy, reading) * by
  }
  return sizes
}

function addInstrument(total: ErrorTotal, instrument: UsedInstrument, sizes: Sizes, readings: number): void {
  const { budget, groups } = instrument
  total.addShared(groups.calibration, sizes.calibration / readings)
  if (budget.curve) {
    total.addShared(groups.interpolation, sizes.interpolation / RECTANGLE / readings)
    total.addShared(groups.drift, sizes.drift / RECTANGLE / readings)
  } else total.addShared(groups.accuracy, sizes.accuracy / RECTANGLE / readings)
  if (budget.resolution !== null) total.addIndependent((budget.resolution * sizes.slopes) / 2 / RECTANGLE / readings)
}

/** False where the points cannot say how well they stand for the face. */
function addSampling(total: ErrorTotal, of: Gathered, on: TerminalOnBasis, settings: UncertaintySettings): boolean {
  if (of.way === 'duct_traverse') {
    total.addIndependent((settings.traverseRulePercent / 100) * on.mean)
    return true
  }
  if (on.deviation === null) return of.way !== 'face_grid'
  total.addIndependent(on.deviation / Math.sqrt(on.points), on.points - 1)
  return true
}

/**
 * What the uncertainty of a terminal's mean comes to on a basis, in the mean's unit, by the same rules as `meanTerms`: every instrument by its
 * share of the readings, sampling, density. None for a closed terminal, which is a recorded zero. Null without a valid reading, for a
 * face with a single point, and where nothing states how wrong an instrument may be.
 */
export function meanErrors(of: Gathered, on: TerminalOnBasis, settings: UncertaintySettings, book: BudgetBook): ErrorSums | null {
  let readings = 0
  for (const share of of.readings) readings += share.indicated.length
  if (readings === 0) return of.terminal.body.closed ? NO_ERROR : null
  const total = new ErrorTotal()
  if (!addSampling(total, of, on, settings)) return null
  let moved = 0
  let movedAtInstrument = 0
  for (const share of of.readings) {
    const instrument = book.instrumentOf(share.use)
    if (!instrument.stated) return null
    const slopes = slopesOf(of, share, on.basis)
    addInstrument(total, instrument, sizesOf(instrument, share, slopes), readings)
    moved += slopes.densityExponents.atFilter * slopes.sum
    movedAtInstrument += slopes.densityExponents.atInstrument * slopes.sum
  }
  if (moved !== 0) total.addShared(book.groups.of(DENSITY_GROUP), (moved / readings) * book.densityRelative(settings, of.air))
  if (movedAtInstrument !== 0)
    total.addShared(
      book.groups.of(INSTRUMENT_DENSITY_GROUP),
      (movedAtInstrument / readings) * book.instrumentDensityRelative(settings, of.air),
    )
  return total.sums()
}

/** Relative standard uncertainty of the hood's factor at a terminal, and the error that all terminals of that face have in common; null elsewhere. */
export function hoodFactorOf(of: Gathered, settings: UncertaintySettings): { relative: number; group: string } | null {
  const [first] = of.readings
  if (of.way !== 'hood' || !first) return null
  const unstated = relativeOf(settings.hoodFactorPercent)
  // Repeats may fall into several ranges: their factors err together, and so the largest error stands for all of them.
  const relatives = of.hoodFactors.map(({ found }) => found?.relativeUncertainty ?? unstated)
  return {
    relative: relatives.length === 0 ? unstated : Math.max(...relatives),
    group: `hood_factor ${first.use.instrumentId} ${of.terminal.body.face}`,
  }
}

/** Relative standard uncertainty of a terminal's correction factor; null where it has none. */
export function correctionRelative({ terminal }: Gathered, settings: UncertaintySettings): number | null {
  const { correctionFactor } = terminal.body
  return correctionFactor ? relativeOf(correctionFactor.uncertaintyPercent ?? settings.correctionFactorPercent) : null
}

/** Half width of what a flow element states (its coefficient with its bore, or its flow at one pascal), percent; null at a terminal without one. */
export function elementPercent({ way, terminal }: Gathered, settings: UncertaintySettings): number | null {
  const { flowElement } = terminal.body
  return way === 'flow_element' && flowElement ? (flowElement.uncertaintyPercent ?? settings.flowElementPercent) : null
}

/** Half width of a terminal's area, percent. */
export function areaPercent({ terminal }: Gathered, settings: UncertaintySettings): number {
  return terminal.body.areaUncertaintyPercent ?? settings.areaPercent
}

/** Whether the terminal's flow is its mean velocity through an area. */
export function flowsThroughArea(of: Gathered): boolean {
  return of.way === 'face_grid' || of.way === 'duct_traverse'
}

/**
 * What the uncertainty of a terminal's flow comes to, m3/s, from that of its mean: area, correction factor, hood factor and flow element with it.
 * Null without one of the two.
 */
export function flowErrors(
  of: Gathered,
  on: TerminalOnBasis,
  mean: ErrorSums | null,
  settings: UncertaintySettings,
  book: BudgetBook,
): ErrorSums | null {
  const { flowM3ps } = on
  if (mean === null || flowM3ps === null) return null
  if (of.readings.length === 0) return mean
  const throughArea = flowsThroughArea(of)
  const total = new ErrorTotal()
  total.add(mean, (throughArea ? on.areaM2 : 1) * on.correctionFactor)
  if (throughArea) {
    const percent = areaPercent(of, settings)
    const group = book.areaGroupOf(of.terminal.id, of.terminal.body, percent)
    const contribution = flowM3ps * relativeOf(percent)
    if (group === null) total.addIndependent(contribution)
    else total.addShared(group, contribution)
  }
  const hood = hoodFactorOf(of, settings)
  if (hood) total.addShared(book.groups.of(hood.group), flowM3ps * hood.relative)
  const correction = correctionRelative(of, settings)
  if (correction !== null) total.addIndependent(flowM3ps * correction)
  const element = elementPercent(of, settings)
  if (element !== null) total.addIndependent(flowM3ps * relativeOf(element))
  return total.sums()
}
