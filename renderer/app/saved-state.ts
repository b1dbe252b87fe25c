import { externalState } from './external-state.ts'

/** What the person may believe about the last change: never "saved" before the engine has answered. */
export type SavedState = {
  readonly pending: number
  readonly outcome: 'none' | 'saved' | 'failed'
}

export const savedState = externalState<SavedState>({ pending: 0, outcome: 'none' })

/** Follows one change from the moment it is sent until it is answered. */
export async function followChange<T>(change: () => Promise<T>): Promise<T> {
  savedState.set({ ...savedState.get(), pending: savedState.get().pending + 1 })
  let outcome: SavedState['outcome'] = 'failed'
  try {
    const answer = await change()
    outcome = 'saved'
    return answer
  } finally {
    savedState.set({ pending: savedState.get().pending - 1, outcome })
  }
}
