/** Words of the certifications screen. Codes start with "certifications." */
export const certifications = {}
