/** A UUID as the 16 bytes that the project file keeps. */
export function uuidBytes(uuid: string): Buffer {
  const bytes = Buffer.from(uuid.replaceAll('-', ''), 'hex')
  if (bytes.length !== 16) throw new RangeError(`not a UUID: ${uuid}`)
  return bytes
}

/** The text form of 16 stored bytes. */
export function uuidText(bytes: Uint8Array): string {
  if (bytes.length !== 16) throw new RangeError(`a UUID has 16 bytes, not ${bytes.length}`)
  return uuidOfHex(Buffer.from(bytes).toString('hex'))
}

/** The text form of 32 hexadecimal digits in lower case, as a query gives them that reads many: a buffer for each takes longer. */
export function uuidOfHex(hex: string): string {
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`
}

/** The scope of a command's undo stack (a run, a room, or `project`) as bytes: a UUID in 16, any other word as it is. */
export function scopeBytes(scope: string): Buffer {
  return /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(scope) ? uuidBytes(scope) : Buffer.from(scope, 'utf8')
}
