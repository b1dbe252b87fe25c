import type { CleanlinessClass } from '#core/model/values.ts'

/** A minimum of air changes to start from, editable in every room. */
export type RequiredMinimum = { readonly cleanlinessClass: CleanlinessClass; readonly perHour: number; readonly source: string }

/** Minima to start from; the code and the site's own rules decide. */
export const REQUIRED_MINIMA: readonly RequiredMinimum[] = [
  {
    cleanlinessClass: 'ISO 8',
    perHour: 20,
    source:
      'FDA, Sterile Drug Products Produced by Aseptic Processing (2004): at least 20 per hour is typically acceptable for ISO 8 support areas',
  },
  { cleanlinessClass: 'ISO 7', perHour: 30, source: 'USP <797> (2023): at least 30 per hour in an ISO 7 buffer area' },
  { cleanlinessClass: 'ISO 6', perHour: 60, source: 'common practice' },
]

/** The minimum to propose for a room of a class; null where the trade has no usual figure. */
export function proposedMinimum(cleanlinessClass: CleanlinessClass): RequiredMinimum | null {
  return REQUIRED_MINIMA.find((minimum) => minimum.cleanlinessClass === cleanlinessClass) ?? null
}
