export const cautions = {}
