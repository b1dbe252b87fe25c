import { useVirtualizer } from '@tanstack/react-virtual'
import { type ReactNode, useRef } from 'react'
import { scrolledByKeys } from '../ui/scrolled-by-keys.ts'
import styles from './import.module.css'

const LINE_HEIGHT = 32

type LongListProps<Item> = {
  label: string
  items: readonly Item[]
  itemKey: (item: Item) => number
  line: (item: Item) => ReactNode
}

/** A list of any length of which only the lines in sight are drawn. It takes the focus, so that the keyboard scrolls it. */
export function LongList<Item>({ label, items, itemKey, line }: LongListProps<Item>) {
  const scroller = useRef<HTMLDivElement>(null)
  const list = useVirtualizer({
    count: items.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => LINE_HEIGHT,
    overscan: 8,
  })
  return (
    <div ref={scroller} className={styles.long} {...scrolledByKeys(label)}>
      <ol style={{ height: list.getTotalSize() }}>
        {list.getVirtualItems().map((shown) => {
          const item = items[shown.index]
          if (item === undefined) return null
          return (
            <li
              key={itemKey(item)}
              ref={list.measureElement}
              data-index={shown.index}
              aria-setsize={items.length}
              aria-posinset={shown.index + 1}
              style={{ transform: `translateY(${shown.start}px)` }}
            >
              {line(item)}
            </li>
          )
        })}
      </ol>
    </div>
  )
}
