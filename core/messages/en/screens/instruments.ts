/** Words of the instruments screen. Codes start with "instruments." */
export const instruments = {}
