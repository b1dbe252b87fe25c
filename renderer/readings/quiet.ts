/** Runs `act` once it has been quiet for `quietMs`, and at the latest after the next quiet moment. Each `ask` starts the wait anew. */
export function whenQuiet(quietMs: number, act: () => void): { ask: () => void; stir: () => void; stop: () => void } {
  let timer: ReturnType<typeof setTimeout> | null = null
  const start = () => {
    if (timer !== null) clearTimeout(timer)
    timer = setTimeout(() => {
      timer = null
      act()
    }, quietMs)
  }
  return {
    ask: start,
    /** something is going on: put off what was asked for, if anything was */
    stir: () => {
      if (timer !== null) start()
    },
    stop: () => {
      if (timer !== null) clearTimeout(timer)
      timer = null
    },
  }
}
