import { type RefObject, useEffect, useRef } from 'react'

/** What scrolls goes back to its top once `again` is true: a panel that closes gives the sight of the typing back. */
export function useTopAgain(again: boolean): RefObject<HTMLDivElement | null> {
  const scrolls = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (again) scrolls.current?.scrollTo({ top: 0 })
  }, [again])
  return scrolls
}
