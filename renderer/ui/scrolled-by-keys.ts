/** Spread over an element that scrolls and holds nothing else to stand on: without it the keyboard never gets there (WCAG 2.1.1). */
export function scrolledByKeys(label: string) {
  return { role: 'group', tabIndex: 0, 'aria-label': label } as const
}
