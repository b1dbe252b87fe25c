/** Words of the app screen. Codes start with "app." */
export const app = {}
