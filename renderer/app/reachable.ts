import { connection } from './client.ts'

const NOTICED_AFTER_MS = 1000

/**
 * Fetches a part of the page that is not there yet. While the program cannot be reached it waits and tries again, as calls do: a screen
 * that is only late is no reason to lose what stands on the page.
 */
export async function whenReachable<T>(fetchPart: () => Promise<T>): Promise<T> {
  for (;;) {
    try {
      return await fetchPart()
    } catch (error) {
      // The channel may not have noticed yet that the other side is gone.
      await new Promise((resolve) => setTimeout(resolve, NOTICED_AFTER_MS))
      if (connection.state.get() === 'open') throw error
      await opened()
    }
  }
}

function opened(): Promise<void> {
  return new Promise((resolve) => {
    const stop = connection.state.subscribe(() => {
      if (connection.state.get() !== 'open') return
      stop()
      resolve()
    })
  })
}
