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
