import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'

/** Canonical JSON (RFC 8785): the same value gives the same text on every machine, for as long as we keep hashes of it. */
export function canonicalJson(value: unknown): string {
  const text = canonicalize(value)
  if (text === undefined) throw new TypeError('this value has no JSON form')
  return text
}

/** SHA-256 of the parts one after another. */
export function sha256(...parts: readonly (string | Uint8Array)[]): Buffer {
  const hash = createHash('sha256')
  for (const part of parts) hash.update(part)
  return hash.digest()
}
