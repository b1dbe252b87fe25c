/** Bytes as base64, in slices that the call stack bears. */
export function bytesToBase64(bytes: Uint8Array): string {
  const slice = 0x8000
  let text = ''
  for (let at = 0; at < bytes.length; at += slice) text += String.fromCharCode(...bytes.subarray(at, at + slice))
  return btoa(text)
}

export function base64ToBytes(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0))
}

/** Hands a file to the browser's own way of saving; never shown inside the page. */
export function saveOutside(name: string, mediaType: string, base64: string): void {
  const address = URL.createObjectURL(new Blob([base64ToBytes(base64)], { type: mediaType || 'application/octet-stream' }))
  const link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(address), 10_000)
}
