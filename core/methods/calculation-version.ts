/** Number of the calculation; goes up whenever the same readings may give other figures or verdicts than before. */
export const CALCULATION_VERSION = 3
