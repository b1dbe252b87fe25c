/** A point of a certificate: what the instrument showed, what was true, and U with its k, all in the SI unit of the reading. */
export type CalibrationPoint = {
  readonly reading: number
  readonly trueValue: number
  readonly expandedUncertainty: number
  readonly coverageFactor: number
}

/** Points in the order of their readings, ready to correct with. */
export type CalibrationCurve = {
  readonly points: readonly { readonly reading: number; readonly correction: number; readonly uncertainty: number }[]
}

export type CorrectedReading = {
  readonly corrected: number
  readonly correction: number
  /** standard uncertainty of the correction from the certificate */
  readonly calibrationUncertainty: number
  /** half the width of what the line between two points may miss */
  readonly interpolationHalfWidth: number
  /** the reading lies beyond the points; the correction of the nearest is kept */
  readonly beyond: 'below' | 'above' | null
}

/**
 * Makes a curve of a certificate's points. Null when there is none, when two have the same reading, or when a figure is not finite, an
 * uncertainty negative or a coverage factor not above zero.
 */
export function calibrationCurve(points: readonly CalibrationPoint[]): CalibrationCurve | null {
  const usable = points.every(
    ({ reading, trueValue, expandedUncertainty, coverageFactor }) =>
      [reading, trueValue, expandedUncertainty, coverageFactor].every(Number.isFinite) && expandedUncertainty >= 0 && coverageFactor > 0,
  )
  if (!usable || points.length === 0 || new Set(points.map(({ reading }) => reading)).size < points.length) return null
  const ordered = points.map(({ reading, trueValue, expandedUncertainty, coverageFactor }) => ({
    reading,
    correction: trueValue - reading,
    uncertainty: expandedUncertainty / coverageFactor,
  }))
  return { points: ordered.sort((one, other) => one.reading - other.reading) }
}

/**
 * Corrects a reading as indicated by the curve: the correction (true value minus reading) is interpolated on a straight line between the two
 * neighbouring points, and its uncertainty likewise (the points of one certificate share their standards, so they are taken as fully
 * correlated). What the line may miss is taken as half the difference of the neighbouring corrections, nothing on a point itself. Beyond the
 * points the nearest correction is kept, said so, and the greatest half difference of the curve is taken. Source: correcting for a known
 * error before stating its uncertainty, GUM 3.2.4; linear interpolation is common practice, the half difference the house's convention.
 */
export function correctReading(curve: CalibrationCurve, reading: number): CorrectedReading {
  const { points } = curve
  const upperIndex = points.findIndex((point) => point.reading >= reading)
  const upper = points[upperIndex]
  const lower = points[upperIndex === -1 ? points.length - 1 : upperIndex - 1]
  if (upper && upper.reading === reading) return corrected(reading, upper.correction, upper.uncertainty, 0, null)
  if (upper && lower) {
    const share = (reading - lower.reading) / (upper.reading - lower.reading)
    const between = (from: number, to: number) => from + share * (to - from)
    return corrected(
      reading,
      between(lower.correction, upper.correction),
      between(lower.uncertainty, upper.uncertainty),
      Math.abs(upper.correction - lower.correction) / 2,
      null,
    )
  }
  const nearest = upper ?? lower
  if (!nearest) return corrected(reading, 0, 0, 0, null)
  return corrected(reading, nearest.correction, nearest.uncertainty, greatestHalfStep(curve), upper ? 'below' : 'above')
}

function corrected(
  reading: number,
  correction: number,
  calibrationUncertainty: number,
  interpolationHalfWidth: number,
  beyond: CorrectedReading['beyond'],
): CorrectedReading {
  return { corrected: reading + correction, correction, calibrationUncertainty, interpolationHalfWidth, beyond }
}

function greatestHalfStep({ points }: CalibrationCurve): number {
  let greatest = 0
  for (const [index, point] of points.entries()) {
    const next = points[index + 1]
    if (next) greatest = Math.max(greatest, Math.abs(next.correction - point.correction) / 2)
  }
  return greatest
}
