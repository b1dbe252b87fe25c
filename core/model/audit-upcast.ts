import { AUDIT_FORMAT_VERSION } from './audit.ts'

type Stored = { readonly formatVersion?: unknown; readonly [key: string]: unknown }

/**
 * How an entry's stored body of one format version reads in the next. A step is pure, is never changed once shipped, and what is
 * stored is never rewritten: its hash covers the old form.
 */
const UPCASTERS: ReadonlyMap<number, (body: Stored) => Stored> = new Map([
  [1, fromFormat1],
  [2, fromFormat2],
])

/** Format 1 named the points of a layout by their numbers alone; where they lie is not known from it. */
function fromFormat1(body: Stored): Stored {
  const { changes } = body
  return { ...body, formatVersion: 2, changes: Array.isArray(changes) ? changes.map(layoutOfNumbers) : changes }
}

/** Format 3 can also hold many readings, or many voided ones, as one change. */
function fromFormat2(body: Stored): Stored {
  return { ...body, formatVersion: 3 }
}

function layoutOfNumbers(change: unknown): unknown {
  if (typeof change !== 'object' || change === null || !('what' in change) || change.what !== 'layout') return change
  const points = (numbers: unknown) => (Array.isArray(numbers) ? numbers.map((number: unknown) => ({ number })) : numbers)
  const { before, after } = { before: undefined, after: undefined, ...change }
  return { ...change, before: points(before), after: points(after) }
}

/**
 * Reads the stored body of an audit entry of any known format version as one of the newest version.
 * Answers null for a version that this program does not know, or for something that is no entry.
 * `upcasters` and `newest` are handed in by tests.
 */
export function upcastEntry(
  body: unknown,
  upcasters: ReadonlyMap<number, (body: Stored) => Stored> = UPCASTERS,
  newest: number = AUDIT_FORMAT_VERSION,
): Stored | null {
  if (typeof body !== 'object' || body === null) return null
  let entry: Stored = { ...body }
  for (;;) {
    const version = entry.formatVersion
    if (version === newest) return entry
    const upcast = typeof version === 'number' ? upcasters.get(version) : undefined
    if (!upcast) return null
    const next = upcast(entry)
    if (next.formatVersion !== Number(version) + 1) return null
    entry = next
  }
}
