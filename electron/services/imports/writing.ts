import type { ImportOrder } from '#core/api/imports.ts'
import { forgetTrailEnd } from '../../project-file/trail.ts'
import type { JobOutcome } from '../job-work.ts'
import type { Change, Session } from '../session.ts'
import { keepImport } from './keep.ts'
import type { GatheredImport } from './read-file.ts'

/** While a worker writes into the open file, commands wait for it; whatever only reads goes on. */
export class WritingGate {
  #open: Promise<void> = Promise.resolve()
  #let: (() => void) | null = null
  #held: { readonly holder: string; readonly session: Session; readonly events: Change[] } | null = null

  /** Resolves when no worker writes. */
  get free(): Promise<void> {
    return this.#open
  }

  /** Whether commands wait for a worker now. */
  get closed(): boolean {
    return this.#held !== null
  }

  close(holder: string, session: Session): void {
    session.cache.rests = true
    this.#held = { holder, session, events: [] }
    this.#open = new Promise((resolve) => {
      this.#let = resolve
    })
  }

  /** What the worker changed is told to the pages once this process has forgotten how it was before. */
  changed(holder: string, event: Change): void {
    if (this.#held?.holder === holder) this.#held.events.push(event)
  }

  open(holder: string, publish: (event: Change) => void): void {
    if (this.#held?.holder !== holder) return
    const { session, events } = this.#held
    this.#held = null
    session.cache.rests = false
    session.forget()
    session.stores.runs.forgetRevisions()
    forgetTrailEnd(session.file.db)
    for (const event of events) publish(event)
    this.#let?.()
  }
}

export function isGathered(outcome: JobOutcome | null): outcome is GatheredImport {
  return outcome !== null && 'outcome' in outcome
}

/** Writes what a worker read, where the engine's own connection is the only one: on a network drive. Nothing else goes on meanwhile. */
export function writeHere(session: Session, gathered: GatheredImport, order: ImportOrder, attachmentId: string): JobOutcome | null {
  return keepImport(session, gathered, order, attachmentId, { progress: () => undefined, cancelled: () => false })
}
