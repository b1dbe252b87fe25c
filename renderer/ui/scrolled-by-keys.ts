/** Spread over a region that scrolls and holds nothing else to stand on: without it the keyboard never gets there (WCAG 2.1.1). */
export const SCROLLED_BY_KEYS = { tabIndex: 0 } as const
