import { useSyncExternalStore } from 'react'

export type ExternalState<T> = {
  readonly get: () => T
  readonly set: (next: T) => void
  readonly subscribe: (listener: () => void) => () => void
}

/** State that lives outside React because the transport changes it. */
export function externalState<T>(start: T): ExternalState<T> {
  let value = start
  const listeners = new Set<() => void>()
  return {
    get: () => value,
    set: (next) => {
      if (Object.is(next, value)) return
      value = next
      for (const listener of [...listeners]) listener()
    },
    subscribe: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
}

export function useExternalState<T>(state: ExternalState<T>): T {
  return useSyncExternalStore(state.subscribe, state.get)
}
