/** An accuracy statement in SI. `sum_of`: percent of reading plus the absolute part; `greater_of`: whichever is larger. */
export type AccuracyStatement = {
  readonly form: 'sum_of' | 'greater_of'
  readonly percentOfReading: number
  /** in the SI unit of the reading */
  readonly absolute: number
}

/** Half the width within which the reading is right according to the statement, in the unit of the reading. The reading as indicated. */
export function accuracyHalfWidth(statement: AccuracyStatement, reading: number): number {
  const relative = (statement.percentOfReading / 100) * Math.abs(reading)
  return statement.form === 'sum_of' ? relative + statement.absolute : Math.max(relative, statement.absolute)
}

/**
 * Half width for the mean of several readings of one instrument: the mean of the half widths, because the error of one instrument is the same at
 * every point and does not average out. Null without readings. Source: GUM 4.3.7 for the rectangle, 5.2.2 with r = 1 for the mean.
 */
export function meanAccuracyHalfWidth(statement: AccuracyStatement, readings: readonly number[]): number | null {
  if (readings.length === 0) return null
  return readings.reduce((sum, reading) => sum + accuracyHalfWidth(statement, reading), 0) / readings.length
}
