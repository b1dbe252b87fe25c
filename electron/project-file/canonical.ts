import { createHash, hash } from 'node:crypto'
import canonicalize from 'canonicalize'

/**
 * Canonical JSON (RFC 8785): the same value gives the same text on every machine, for as long as we keep hashes of it. Plain data, as
 * every entry is, is put in order and printed by the language's own printer, which RFC 8785 is built on; anything else goes through
 * the library, which is slower.
 */
export function canonicalJson(value: unknown): string {
  const inOrder = ordered(value)
  const text = inOrder === NOT_PLAIN ? canonicalize(value) : JSON.stringify(inOrder)
  if (text === undefined) throw new TypeError('this value has no JSON form')
  return text
}

const NOT_PLAIN = Symbol('not plain data')

/** The value with its keys in order, itself where they are, or NOT_PLAIN for whatever the plain way might print otherwise than the standard says. */
function ordered(value: unknown): unknown {
  switch (typeof value) {
    case 'string':
      return value.isWellFormed() ? value : NOT_PLAIN
    case 'number':
      return Number.isFinite(value) ? value : NOT_PLAIN
    case 'boolean':
      return value
    case 'object':
      if (value === null) return null
      return Array.isArray(value) ? orderedItems(value) : orderedMembers(value)
    default:
      return NOT_PLAIN
  }
}

function orderedItems(items: readonly unknown[]): unknown {
  let copy: unknown[] | null = null
  for (let index = 0; index < items.length; index += 1) {
    const inOrder = ordered(items[index])
    if (inOrder === NOT_PLAIN) return NOT_PLAIN
    if (inOrder !== items[index]) copy ??= items.slice()
    if (copy) copy[index] = inOrder
  }
  return copy ?? items
}

function orderedMembers(value: object): unknown {
  if (Object.getPrototypeOf(value) !== Object.prototype) return NOT_PLAIN
  const members = value as Readonly<Record<string, unknown>>
  const inOrder: unknown[] = []
  let same = true
  let before = ''
  for (const key in members) {
    const member = members[key] === undefined ? undefined : ordered(members[key])
    // Members named by a number are listed first by the language, whatever order they were set in.
    if (member === NOT_PLAIN || key === 'toJSON' || key === '__proto__' || !key.isWellFormed() || /^\d/.test(key)) return NOT_PLAIN
    same &&= member === members[key] && before <= key
    before = key
    inOrder.push(member)
  }
  if (same) return value
  const keys = Object.keys(members)
  const places = new Map(keys.map((key, index) => [key, index]))
  const copy: Record<string, unknown> = {}
  for (const key of sorted(keys)) copy[key] = inOrder[places.get(key) ?? 0]
  return copy
}

/** By UTF-16 code units, as RFC 8785 wants. Members are few and often half in order, where inserting beats the general sort. */
function sorted(keys: string[]): string[] {
  if (keys.length > 30) return keys.sort()
  for (let index = 1; index < keys.length; index += 1) {
    const key = keys[index] ?? ''
    let place = index - 1
    for (; place >= 0 && (keys[place] ?? '') > key; place -= 1) keys[place + 1] = keys[place] ?? ''
    keys[place + 1] = key
  }
  return keys
}

/** SHA-256 of the parts one after another. */
export function sha256(...parts: readonly (string | Uint8Array)[]): Buffer {
  const all = createHash('sha256')
  for (const part of parts) all.update(part)
  return all.digest()
}

/** The same of a short pair, in one go. */
export function sha256OfPair(first: Uint8Array, text: string): Buffer {
  const both = Buffer.allocUnsafe(first.length + Buffer.byteLength(text))
  both.set(first)
  both.write(text, first.length)
  return hash('sha256', both, 'buffer')
}
