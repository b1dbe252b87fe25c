import type { ClientContext } from '@orpc/client'
import { StandardRPCLink } from '@orpc/client/standard'
import { AsyncIdQueue } from '@orpc/shared'
import {
  decodeResponseMessage,
  type EncodedMessage,
  type EventIteratorPayload,
  encodeRequestMessage,
  MessageType,
  type RequestMessageMap,
  type ResponseMessageMap,
  toEventIterator,
} from '@orpc/standard-server-peer'

type Response = ResponseMessageMap[MessageType.RESPONSE]
type Request = RequestMessageMap[MessageType.REQUEST] & { readonly signal?: AbortSignal | undefined }
type Waiting = { readonly answer: (response: Response) => void; readonly fail: (reason: unknown) => void }

/** Text; where a file is carried, bytes. */
export type Sent = string | Uint8Array<ArrayBuffer>

export type ContractLink = {
  readonly link: StandardRPCLink<ClientContext>
  /** to be called with whatever the engine sends */
  readonly receive: (message: EncodedMessage) => Promise<void>
  /** fails whatever waits, once the channel is gone */
  readonly close: (reason: Error) => void
}

/**
 * A link that speaks oRPC's own messages over a channel. It stands in for oRPC's message links because those finish every call by
 * aborting it, with errors that carry the trace of all that waits: as much work as all the rest of a recorded reading.
 */
export function createContractLink(send: (message: Sent) => void): ContractLink {
  const waiting = new Map<string, Waiting>()
  const events = new AsyncIdQueue<EventIteratorPayload>()
  // One class at run time, which the two packages' types each declare for themselves.
  const queue = events as unknown as Parameters<typeof toEventIterator>[0]
  let calls = 0
  let gone: Error | null = null

  const call = async (request: Request): Promise<Response> => {
    const { signal } = request
    signal?.throwIfAborted()
    calls += 1
    const id = String(calls)
    const giveUp = async () => {
      await abort(id)
      // What the engine still sends for it is dropped.
      waiting.get(id)?.fail(signal?.reason)
      events.close({ id, reason: signal?.reason })
    }
    signal?.addEventListener('abort', giveUp, { once: true })
    const finished = () => signal?.removeEventListener('abort', giveUp)
    try {
      const message = await encodeRequestMessage(id, MessageType.REQUEST, request)
      signal?.throwIfAborted()
      if (gone) throw gone
      const response = await new Promise<Response>((answer, fail) => {
        waiting.set(id, { answer, fail })
        send(asSent(message))
      })
      if (!isStream(response)) {
        finished()
        return response
      }
      const body = toEventIterator(queue, id, async (reason) => {
        finished()
        if (reason !== 'next' && events.isOpen(id)) await abort(id)
        events.close({ id })
      })
      return { ...response, body }
    } catch (error) {
      finished()
      throw error
    } finally {
      waiting.delete(id)
    }
  }

  const abort = async (id: string): Promise<void> => {
    const message = asSent(await encodeRequestMessage(id, MessageType.ABORT_SIGNAL, undefined))
    if (!gone) send(message)
  }

  const client = {
    async call(request: Request) {
      const response = await call(request)
      return { ...response, body: () => Promise.resolve(response.body) }
    },
  }
  return {
    link: new StandardRPCLink(client, { url: 'http://orpc' }),
    async receive(message) {
      const [id, type, payload] = await decodeResponseMessage(message)
      if (type === MessageType.EVENT_ITERATOR) {
        if (events.isOpen(id)) events.push(id, payload)
      } else if (type === MessageType.RESPONSE) {
        if (isStream(payload) && waiting.has(id)) events.open(id)
        waiting.get(id)?.answer(payload)
      }
    },
    close(reason) {
      gone = reason
      for (const { fail } of waiting.values()) fail(reason)
      events.close({ reason })
    },
  }
}

function asSent(message: EncodedMessage): Sent {
  // Nothing that oRPC encodes is in memory shared with another thread.
  return typeof message === 'string' ? message : new Uint8Array(message as ArrayBuffer | Uint8Array<ArrayBuffer>)
}

function isStream({ headers }: Response): boolean {
  return String(headers['content-type'] ?? '').startsWith('text/event-stream')
}
