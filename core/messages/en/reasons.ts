export const reasons = {}
