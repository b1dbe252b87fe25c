/** Words of the criteria screen. Codes start with "criteria." */
export const criteria = {}
