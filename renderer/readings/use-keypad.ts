import { useState } from 'react'

const KEY = 'facegrid.number_keys'

/** Whether the number keys are on the screen: at first where a finger is the pointer, later as the person left it. */
export function useKeypad(): [boolean, (shown: boolean) => void] {
  const [shown, setShown] = useState(() => {
    const kept = window.localStorage.getItem(KEY)
    return kept === null ? window.matchMedia('(pointer: coarse)').matches : kept === 'shown'
  })
  return [
    shown,
    (next) => {
      setShown(next)
      window.localStorage.setItem(KEY, next ? 'shown' : 'hidden')
    },
  ]
}
