import { StandardRPCHandler } from '@orpc/server/standard'
import { isAsyncIteratorObject } from '@orpc/shared'
import {
  type DecodedRequestMessage,
  decodeRequestMessage,
  type EncodedMessage,
  encodeResponseMessage,
  MessageType,
  type RequestMessageMap,
  resolveEventIterator,
} from '@orpc/standard-server-peer'
import type { Engine } from './engine.ts'

/** One page's side of a channel: what it sends is handed in, and the channel's end is told. */
export type ContractChannel = { readonly receive: (message: EncodedMessage) => Promise<void>; readonly close: () => void }

/**
 * Serves the contract on channels, in the messages of oRPC's own links, which any of them can talk to. It stands in for oRPC's message
 * handlers because those make a handful of errors, each with the trace of all that waits for it, to finish a call in which nothing
 * went wrong: as much work as all the rest of a recorded reading.
 */
export function serveContract(router: Engine['router']): (send: (message: EncodedMessage) => void) => ContractChannel {
  const handler = new StandardRPCHandler(router)
  return (send) => {
    const running = new Map<string, AbortController>()
    const answer = async (id: string, request: RequestMessageMap[MessageType.REQUEST]): Promise<void> => {
      const stop = new AbortController()
      running.set(id, stop)
      const { signal } = stop
      try {
        const { response } = await handler.handle({ ...request, signal, body: () => Promise.resolve(request.body) }, { context: {} })
        if (signal.aborted) return
        const found = response ?? { status: 404, headers: {}, body: 'No procedure matched' }
        send(await encodeResponseMessage(id, MessageType.RESPONSE, found))
        if (!isAsyncIteratorObject(found.body)) return
        await resolveEventIterator(found.body, async (event) => {
          if (signal.aborted) return 'abort'
          send(await encodeResponseMessage(id, MessageType.EVENT_ITERATOR, event))
          return 'next'
        })
      } catch (error) {
        // A stream that its reader gave up may end with an error; nobody is left to be told.
        if (!signal.aborted) throw error
      } finally {
        running.delete(id)
      }
    }
    const received = async ([id, type, payload]: DecodedRequestMessage): Promise<void> => {
      if (type === MessageType.ABORT_SIGNAL) running.get(id)?.abort()
      // Nothing in the contract is streamed to the engine.
      else if (type === MessageType.REQUEST && !running.has(id)) await answer(id, payload)
    }
    return {
      async receive(message) {
        try {
          await received(await decodeRequestMessage(message))
        } catch (error) {
          console.error(error)
        }
      },
      close() {
        for (const stop of running.values()) stop.abort()
      },
    }
  }
}
