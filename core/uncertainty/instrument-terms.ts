import { type AccuracyStatement, accuracyHalfWidth } from './accuracy.ts'
import { type CalibrationCurve, correctReading } from './calibration-points.ts'
import { expandedTerm, rectangularTerm, standardTerm, type Term } from './term.ts'

/** What is known of one instrument for one quantity, in the SI unit of its readings. */
export type BudgetInstrument = {
  readonly instrumentId: string
  readonly certificateId: string | null
  /** expanded uncertainty of the certificate: percent of reading plus an absolute part; null where none is stated */
  readonly certificate: {
    readonly expandedPercentOfReading: number
    readonly expandedAbsolute: number
    readonly coverageFactor: number
  } | null
  readonly accuracy: AccuracyStatement | null
  /** calibration points that correct the readings; then drift and interpolation take the place of the accuracy statement */
  readonly curve: CalibrationCurve | null
  /**
   * half the width within which it may have drifted since the certificate, which counts only with a curve; null where none is stated: then
   * that of the accuracy statement is taken, so that points never leave an instrument without any
   */
  readonly driftHalfWidth: number | null
  /** least step of the display; null where not known */
  readonly resolution: number | null
}

/**
 * Half the width within which an instrument that is corrected by points may have drifted when it showed a reading, in the unit of the reading: as
 * stated (0 has to be stated to count as 0), else the accuracy statement's; 0 where there is neither. Source: the house's convention.
 */
export function driftHalfWidth(
  { driftHalfWidth: stated, accuracy }: Pick<BudgetInstrument, 'driftHalfWidth' | 'accuracy'>,
  indicated: number,
): number {
  return stated ?? (accuracy ? accuracyHalfWidth(accuracy, indicated) : 0)
}

/** A reading as indicated, and by how much the result would change for a unit of it (before averaging). */
export type SensitiveReading = { readonly indicated: number; readonly sensitivity: number }

/**
 * The group of an error that one instrument has at every reading. Between two visits it is the same only while the certificate is.
 */
export function instrumentGroup(part: Term['source'], instrument: Pick<BudgetInstrument, 'instrumentId' | 'certificateId'>): string {
  return `${part} ${instrument.instrumentId} ${instrument.certificateId ?? 'no certificate'}`
}

/**
 * Means over the readings. An error that is the same in all readings goes into the mean of their results with mean(sensitivity x error); the
 * line of the budget shows that as a typical error times the mean sensitivity.
 */
function averaged(readings: readonly SensitiveReading[], sizeAt: (indicated: number) => number): { size: number; sensitivity: number } {
  let sizes = 0
  let sensitivities = 0
  for (const { indicated, sensitivity } of readings) {
    sizes += sizeAt(indicated) * sensitivity
    sensitivities += sensitivity
  }
  return { size: sensitivities === 0 ? 0 : sizes / sensitivities, sensitivity: sensitivities / readings.length }
}

/**
 * Terms that an instrument brings to the mean of its readings: certificate and accuracy statement, or, where calibration points correct the
 * readings, the points' uncertainty with interpolation and {@link driftHalfWidth} instead; and resolution (half a step, not divided by the number of readings, since
 * steady air shows the same step every time). All but the resolution carry the instrument's group. `weight` is the share of these readings in the
 * mean, 1 for a single instrument. None without readings. Source: GUM 4.3.3, 4.3.7, 5.2.2, F.2.2.1; conventions of the house.
 */
export function instrumentTerms(instrument: BudgetInstrument, readings: readonly SensitiveReading[], weight = 1): Term[] {
  if (readings.length === 0) return []
  const { certificate, accuracy, curve, resolution } = instrument
  const of = instrument.instrumentId
  const terms: Term[] = []
  const add = (term: Term, sensitivity: number) => terms.push({ ...term, sensitivity: sensitivity * weight })
  const group = (part: Term['source']) => instrumentGroup(part, instrument)
  if (curve) {
    const calibration = averaged(readings, (indicated) => correctReading(curve, indicated).calibrationUncertainty)
    add(standardTerm('calibration', of, calibration.size, Number.POSITIVE_INFINITY, group('calibration')), calibration.sensitivity)
    const interpolation = averaged(readings, (indicated) => correctReading(curve, indicated).interpolationHalfWidth)
    add(rectangularTerm('interpolation', of, interpolation.size, group('interpolation')), interpolation.sensitivity)
    const drift = averaged(readings, (indicated) => driftHalfWidth(instrument, indicated))
    add(rectangularTerm('drift', of, drift.size, group('drift')), drift.sensitivity)
  } else {
    if (certificate) {
      const { expandedPercentOfReading, expandedAbsolute, coverageFactor } = certificate
      const { size, sensitivity } = averaged(
        readings,
        (indicated) => (expandedPercentOfReading / 100) * Math.abs(indicated) + expandedAbsolute,
      )
      add(expandedTerm('calibration', of, size, coverageFactor, group('calibration')), sensitivity)
    }
    if (accuracy) {
      const { size, sensitivity } = averaged(readings, (indicated) => accuracyHalfWidth(accuracy, indicated))
      add(rectangularTerm('accuracy', of, size, group('accuracy')), sensitivity)
    }
  }
  if (resolution !== null) {
    const { size, sensitivity } = averaged(readings, () => resolution / 2)
    add(rectangularTerm('resolution', of, size), sensitivity)
  }
  return terms
}
