/** Bytes as base64 text, in parts small enough for the call stack. */
export function inBase64(bytes: Uint8Array): string {
  let text = ''
  for (let from = 0; from < bytes.length; from += 0x8000) text += String.fromCharCode(...bytes.subarray(from, from + 0x8000))
  return btoa(text)
}

/** The bytes of base64 text. */
export function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0))
}
