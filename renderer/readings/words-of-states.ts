import { useCallback } from 'react'
import type { ReadingFlag } from '#core/model/readings.ts'
import { useSay } from '../app/session.tsx'
import type { SavedState } from './reading-book.ts'

/** A flag of a reading in words. */
export function useFlagWord(): (flag: ReadingFlag) => string {
  const t = useSay()
  return useCallback((flag) => t(`readings.flag.${flag}`, {}), [t])
}

/** How far a number has come, in words; nothing for an empty place. */
export function useSavedWord(): (saved: SavedState | 'empty') => string {
  const t = useSay()
  return useCallback((saved) => (saved === 'empty' ? '' : t(`readings.state.${saved}`, {})), [t])
}
