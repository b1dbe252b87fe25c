import type { ImportLook } from '#core/api/imports.ts'

export type Encoding = ImportLook['encoding']

/** So much of a file tells how its text is encoded. */
export const TELLING_BYTES = 1 << 18

/**
 * How a text file is encoded, from its first bytes: by its byte order mark, else by the zero bytes that UTF-16 has beside every Latin
 * letter, else UTF-8 where it is valid, else the Western code page that loggers' software falls back on.
 */
export function encodingOf(start: Uint8Array): Encoding {
  if (start[0] === 0xef && start[1] === 0xbb && start[2] === 0xbf) return 'utf-8'
  if (start[0] === 0xff && start[1] === 0xfe) return 'utf-16le'
  if (start[0] === 0xfe && start[1] === 0xff) return 'utf-16be'
  let [even, odd] = [0, 0]
  for (const [index, byte] of start.subarray(0, 4096).entries()) {
    if (byte !== 0) continue
    if (index % 2 === 0) even += 1
    else odd += 1
  }
  const enough = Math.min(start.length, 4096) / 8
  if (odd > enough && odd > 4 * even) return 'utf-16le'
  if (even > enough && even > 4 * odd) return 'utf-16be'
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(start, { stream: true })
    return 'utf-8'
  } catch {
    return 'windows-1252'
  }
}

/** Whether the first bytes of a file can be text at all: workbooks, pictures and archives have bytes that no text has. */
export function isText(start: Uint8Array, encoding: Encoding): boolean {
  return encoding === 'utf-16le' || encoding === 'utf-16be' || !start.includes(0)
}
