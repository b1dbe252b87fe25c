import { useEffect, useState } from 'react'

/** The text once it has stood for a moment: a number half typed is neither questioned nor judged at every key. */
export function useRested(text: string, restMs: number): string {
  const [rested, setRested] = useState('')
  useEffect(() => {
    const timer = setTimeout(() => setRested(text), restMs)
    return () => clearTimeout(timer)
  }, [text, restMs])
  return rested
}
