/** Words of the readings screen. Codes start with "readings." */
export const readings = {}
