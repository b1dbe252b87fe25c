/** Words of the compare screen. Codes start with "compare." */
export const compare = {}
