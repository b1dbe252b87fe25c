import { useVirtualizer } from '@tanstack/react-virtual'
import { type RefObject, useLayoutEffect, useState } from 'react'

const ROW_HEIGHT_PX = 38
const HEAD_HEIGHT_PX = 40

export type RowsInSight = {
  readonly indexes: readonly number[]
  /** height of the rows left out above and below, px */
  readonly above: number
  readonly below: number
  readonly show: (index: number) => void
}

/** Which rows of a long table are in sight, in the stage that scrolls around it. */
export function useRowsInSight(body: RefObject<HTMLElement | null>, count: number): RowsInSight {
  const [stage, setStage] = useState<{ element: HTMLElement; offset: number } | null>(null)
  // The table begins below whatever stands above it, and that changes with the width: measured after every rendering.
  useLayoutEffect(() => {
    const element = body.current?.closest('main')
    if (!body.current || !element) return
    const offset = Math.round(body.current.getBoundingClientRect().top - element.getBoundingClientRect().top + element.scrollTop)
    setStage((before) => (before?.element === element && before.offset === offset ? before : { element, offset }))
  })
  const offset = stage?.offset ?? 0
  const virtualizer = useVirtualizer({
    count,
    getScrollElement: () => stage?.element ?? null,
    estimateSize: () => ROW_HEIGHT_PX,
    initialRect: { width: 1000, height: 800 },
    overscan: 12,
    scrollMargin: offset,
    scrollPaddingStart: HEAD_HEIGHT_PX,
    scrollPaddingEnd: 12,
  })
  const items = virtualizer.getVirtualItems()
  return {
    indexes: items.map((item) => item.index),
    above: (items[0]?.start ?? offset) - offset,
    below: virtualizer.getTotalSize() - ((items.at(-1)?.end ?? offset) - offset),
    show: (index) => virtualizer.scrollToIndex(index),
  }
}
