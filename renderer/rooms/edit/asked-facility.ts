/** The facility that the address asks for: `...#/room/new?facility=ID`, or the same query before the hash, as the router may write it. */
export function askedFacility(address: string): string | null {
  const [before = '', hash = ''] = address.split('#')
  for (const part of [hash, before]) {
    const query = part.split('?')[1]
    const facility = query === undefined ? null : new URLSearchParams(query).get('facility')
    if (facility) return facility
  }
  return null
}
