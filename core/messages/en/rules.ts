export const rules = {}
