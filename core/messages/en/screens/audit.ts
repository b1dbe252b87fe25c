/** Words of the audit screen. Codes start with "audit." */
export const audit = {}
