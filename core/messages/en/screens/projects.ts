/** Words of the projects screen. Codes start with "projects." */
export const projects = {}
