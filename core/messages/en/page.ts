export const page = {}
