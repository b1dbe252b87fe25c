import { describe, expect, test } from 'vitest'
import { type Channel, createConnection } from '#renderer/app/connection.ts'
import { savedState } from '#renderer/app/saved-state.ts'

type Call = { path: string; input: unknown }

/** Channels whose other side answers, stays silent or drops, as the test says. */
function otherSide() {
  const calls: Call[] = []
  const drops: (() => void)[] = []
  let answer: (call: Call) => Promise<unknown> = async () => 'answer'
  let refusals = 0
  const open = async (): Promise<Channel> => {
    if (refusals > 0) {
      refusals -= 1
      throw new Error('refused')
    }
    const closed = new AbortController()
    drops.push(() => closed.abort(new Error('dropped')))
    return {
      closed: closed.signal,
      link: {
        call: (path, input, { signal }) => {
          const call = { path: path.join('.'), input }
          calls.push(call)
          const { promise, reject } = Promise.withResolvers<unknown>()
          signal?.addEventListener('abort', () => reject(signal.reason))
          return Promise.race([promise, answer(call)])
        },
      },
    }
  }
  return {
    calls,
    connection: createConnection(open, () => 1),
    drop: () => drops.at(-1)?.(),
    answerWith: (next: typeof answer) => {
      answer = next
    },
    refuse: (times: number) => {
      refusals = times
    },
  }
}

const silence = () => new Promise<unknown>(() => {})
const call = (side: ReturnType<typeof otherSide>, path: string, input: unknown = {}) =>
  side.connection.call(path.split('.'), input, { context: {} })
const soon = () => new Promise((resolve) => setTimeout(resolve, 15))

describe('a connection that drops', () => {
  test('sends a call that was under way again on the next channel, with the same input', async () => {
    const side = otherSide()
    side.answerWith(silence)
    const input = { command: { id: 'one' } }
    const answered = call(side, 'readings.record', input)
    await soon()
    side.answerWith(async () => 'recorded')
    side.drop()
    expect(await answered).toBe('recorded')
    expect(side.calls).toEqual([
      { path: 'readings.record', input },
      { path: 'readings.record', input },
    ])
  })

  test('never sends twice what makes a file, and says that it failed', async () => {
    const side = otherSide()
    side.answerWith(silence)
    const answered = call(side, 'files.create')
    await soon()
    side.drop()
    await expect(answered).rejects.toThrow('dropped')
    expect(side.calls).toHaveLength(1)
  })

  test('tells that it is lost, keeps trying, and tells that it is back', async () => {
    const side = otherSide()
    const seen: string[] = [side.connection.state.get()]
    side.connection.state.subscribe(() => seen.push(side.connection.state.get()))
    await call(side, 'files.state')
    side.refuse(3)
    side.drop()
    await soon()
    await call(side, 'files.state')
    expect(seen).toEqual(['connecting', 'open', 'lost', 'open'])
  })

  test('lets a caller give up while there is no channel', async () => {
    const side = otherSide()
    side.refuse(Number.POSITIVE_INFINITY)
    const giveUp = new AbortController()
    const answered = side.connection.call(['files', 'state'], {}, { context: {}, signal: giveUp.signal })
    giveUp.abort(new Error('given up'))
    await expect(answered).rejects.toThrow('given up')
  })

  test('passes a failure of the engine on without repeating the call', async () => {
    const side = otherSide()
    side.answerWith(async () => {
      throw new Error('conflict')
    })
    await expect(call(side, 'entities.change', { command: {} })).rejects.toThrow('conflict')
    expect(side.calls).toHaveLength(1)
  })
})

describe('the saved state', () => {
  test('says saved only after the answer, and failed when there was none', async () => {
    const side = otherSide()
    const { promise, resolve } = Promise.withResolvers<unknown>()
    side.answerWith(() => promise)
    const answered = call(side, 'readings.record', { command: {} })
    await soon()
    expect(savedState.get().pending).toBe(1)
    resolve('done')
    await answered
    expect(savedState.get()).toEqual({ pending: 0, outcome: 'saved' })

    side.answerWith(async () => {
      throw new Error('disk full')
    })
    await expect(call(side, 'readings.record', { command: {} })).rejects.toThrow('disk full')
    expect(savedState.get()).toEqual({ pending: 0, outcome: 'failed' })
  })

  test('does not count questions', async () => {
    const side = otherSide()
    side.answerWith(silence)
    void call(side, 'runs.get', { runId: 'x' })
    await soon()
    expect(savedState.get().pending).toBe(0)
  })
})
