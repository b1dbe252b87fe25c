import { EventPublisher } from '@orpc/server'
import type { Change } from './session.ts'

/** Tells every open page what became stale. */
export class ChangeStream {
  readonly #publisher = new EventPublisher<{ change: Change }>({ maxBufferedEvents: 10_000 })

  publish(event: Change): void {
    this.#publisher.publish('change', event)
  }

  subscribe(signal: AbortSignal | undefined): AsyncGenerator<Change> & AsyncIteratorObject<Change> {
    return this.#publisher.subscribe('change', { signal })
  }
}
