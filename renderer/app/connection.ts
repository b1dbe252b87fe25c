import type { ClientContext, ClientLink, ClientOptions } from '@orpc/client'
import { externalState } from './external-state.ts'
import { followChange } from './saved-state.ts'

export type ConnectionState = 'connecting' | 'open' | 'lost'

/** One live channel to the engine. `closed` fires when it drops, so that no call waits for an answer that cannot come. */
export type Channel = { readonly link: ClientLink<ClientContext>; readonly closed: AbortSignal }

/** Opens a channel, or rejects when the other side cannot be reached now. */
export type OpenChannel = () => Promise<Channel>

/** These make files: sent again they would find their own work and call it a collision. */
const SENT_ONCE: ReadonlySet<string> = new Set([
  'files.create',
  'files.makeFolder',
  'files.saveCopy',
  'files.exportExchange',
  'files.importExchange',
  'jobs.startExport',
  'jobs.startCheck',
])

export type Connection = ClientLink<ClientContext> & {
  readonly state: { readonly get: () => ConnectionState; readonly subscribe: (listener: () => void) => () => void }
}

/**
 * A link that survives its channel. Calls wait while the channel is down; a call that was under way when it dropped is sent again on
 * the next one, which is safe because changes carry an identity and the engine answers a repeated one without doing it twice.
 */
export function createConnection(open: OpenChannel, waitMs: (attempt: number) => number = backOff): Connection {
  const state = externalState<ConnectionState>('connecting')
  let current: Promise<Channel> | null = null

  const channel = (): Promise<Channel> => {
    current ??= openUntilThere().then((opened) => {
      state.set('open')
      const dropped = () => {
        state.set('lost')
        current = null
        // Not left to the next call: the page says that the connection is back as soon as it is.
        void channel()
      }
      if (opened.closed.aborted) dropped()
      else opened.closed.addEventListener('abort', dropped, { once: true })
      return opened
    })
    return current
  }

  const openUntilThere = async (): Promise<Channel> => {
    for (let attempt = 0; ; attempt += 1) {
      try {
        return await open()
      } catch {
        state.set('lost')
        await new Promise((resolve) => setTimeout(resolve, waitMs(attempt)))
      }
    }
  }

  const send = async (path: readonly string[], input: unknown, options: ClientOptions<ClientContext>): Promise<unknown> => {
    for (;;) {
      const { link, closed } = await unlessAborted(channel(), options.signal)
      try {
        // Not by handing the signal to the link: it would try to tell the other side, over the very channel that is gone.
        return await unlessAborted(link.call([...path], input, options), closed)
      } catch (error) {
        const again = closed.aborted && !options.signal?.aborted && !SENT_ONCE.has(path.join('.'))
        if (!again) throw error
      }
    }
  }

  return {
    state,
    call: (path, input, options) => (carriesCommand(input) ? followChange(() => send(path, input, options)) : send(path, input, options)),
  }
}

function carriesCommand(input: unknown): boolean {
  // An import carries one, too; whether it is saved its own screen says, when the job has ended.
  return typeof input === 'object' && input !== null && 'command' in input && !('dryRun' in input)
}

function backOff(attempt: number): number {
  return Math.min(5000, 400 * 1.6 ** attempt)
}

async function unlessAborted<T>(promise: Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  if (!signal) return promise
  signal.throwIfAborted()
  const { promise: aborted, reject } = Promise.withResolvers<never>()
  const onAbort = () => reject(signal.reason)
  signal.addEventListener('abort', onAbort, { once: true })
  try {
    return await Promise.race([promise, aborted])
  } finally {
    signal.removeEventListener('abort', onAbort)
  }
}
