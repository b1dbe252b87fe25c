export const notices = {}
