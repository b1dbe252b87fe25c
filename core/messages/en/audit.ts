export const audit = {}
