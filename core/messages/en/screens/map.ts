/** Words of the map screen. Codes start with "map." */
export const map = {}
