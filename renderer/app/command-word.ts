import { useCallback } from 'react'
import type { CommandName } from '#core/model/audit.ts'
import { useSentence } from './words.tsx'

/** A command's name in words, as the trail and the undo buttons show it. */
export function useCommandWord(): (name: CommandName) => string {
  const sentence = useSentence()
  return useCallback((name) => sentence({ code: `app.did.${name}`, params: {} }), [sentence])
}
