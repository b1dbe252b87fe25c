import { type RefObject, useEffect, useState } from 'react'

/** Whether an element has come into sight: what is dear to work out waits for that. Once seen it stays so. */
export function useSeen(element: RefObject<HTMLElement | null>): boolean {
  const [seen, setSeen] = useState(false)
  useEffect(() => {
    const target = element.current
    if (seen || !target) return
    const observer = new IntersectionObserver((entries) => {
      if (entries.some((entry) => entry.isIntersecting)) setSeen(true)
    })
    observer.observe(target)
    return () => observer.disconnect()
  }, [element, seen])
  return seen
}
