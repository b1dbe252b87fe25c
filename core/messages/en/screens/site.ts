/** Words of the site screen. Codes start with "site." */
export const site = {}
