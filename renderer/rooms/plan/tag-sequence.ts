/** What a tag pattern cannot be used for, as a code of the catalogue. */
export type PatternProblem = 'map.tags.no_place' | 'map.tags.two_places' | 'map.tags.too_long'

export type TagSequence = { readonly ok: true; readonly tags: string[] } | { readonly ok: false; readonly problem: PatternProblem }

const PLACE = /\{(0*\d+|[A-Z]+|[a-z]+)\}/g
const LONGEST_TAG = 120

/**
 * Tags in sequence from a pattern whose braces hold the first value: "F-104-{01}" gives F-104-01, F-104-02 ...; "{A}" counts
 * letters A ... Z, AA. Leading zeros set the least width; numbers never lose digits. `step` may be any whole number above 0.
 */
export function tagSequence(pattern: string, count: number, step = 1): TagSequence {
  const places = [...pattern.matchAll(PLACE)]
  const place = places[0]
  if (!place) return { ok: false, problem: 'map.tags.no_place' }
  if (places.length > 1) return { ok: false, problem: 'map.tags.two_places' }
  const before = pattern.slice(0, place.index)
  const after = pattern.slice(place.index + place[0].length)
  const counter = counterFrom(place[1] ?? '1')
  const tags = Array.from({ length: count }, (_, index) => `${before}${counter(index * step)}${after}`)
  if (tags.some((tag) => tag.trim().length > LONGEST_TAG)) return { ok: false, problem: 'map.tags.too_long' }
  return { ok: true, tags }
}

/** Tags that would stand twice in the room: among the new ones, or against those that keep theirs. Case does not tell tags apart. */
export function repeatedTags(tags: readonly string[], kept: readonly string[]): string[] {
  const seen = new Set(kept.map(fold))
  const repeated: string[] = []
  for (const tag of tags) {
    if (seen.has(fold(tag))) repeated.push(tag)
    seen.add(fold(tag))
  }
  return repeated
}

/**
 * A pattern that goes on where the tags of a room end: the beginning of `like` (else the most common one) and the next number.
 * Without numbered tags the room's number with {01}.
 */
export function nextPattern(roomNumber: string, tags: readonly string[], like?: string): string {
  const families = new Map<string, { count: number; last: number; width: number }>()
  for (const tag of tags) {
    const parts = /^(.*?)(\d+)$/.exec(tag)
    const stem = parts?.[1]
    const digits = parts?.[2]
    if (stem === undefined || digits === undefined) continue
    const family = families.get(stem) ?? { count: 0, last: 0, width: 0 }
    families.set(stem, {
      count: family.count + 1,
      last: Math.max(family.last, Number(digits)),
      width: Math.max(family.width, digits.length),
    })
  }
  const wanted = like === undefined ? undefined : /^(.*?)\d+$/.exec(like)?.[1]
  const own = wanted === undefined ? undefined : families.get(wanted)
  if (wanted !== undefined && own) return `${wanted}{${String(own.last + 1).padStart(own.width, '0')}}`
  const [stem, family] = [...families].toSorted((a, b) => b[1].count - a[1].count)[0] ?? [`${roomNumber}-`, { last: 0, width: 2 }]
  return `${stem}{${String(family.last + 1).padStart(family.width, '0')}}`
}

/**
 * A pattern that tags the chosen ones anew: their most common beginning, counted from 1, or on from the tags of others that are kept and begin
 * alike. Without numbered tags the room's number with {01}.
 */
export function firstPattern(roomNumber: string, chosen: readonly string[], kept: readonly string[]): string {
  const next = nextPattern(roomNumber, chosen)
  const start = next.slice(0, next.lastIndexOf('{'))
  const like = kept.find((tag) => tag.startsWith(start) && /^\d+$/.test(tag.slice(start.length)))
  if (like !== undefined) return nextPattern(roomNumber, kept, like)
  const width = next.length - start.length - 2
  return `${start}{${'1'.padStart(width, '0')}}`
}

function counterFrom(first: string): (offset: number) => string {
  if (/^\d+$/.test(first)) return (offset) => String(Number(first) + offset).padStart(first.length, '0')
  const upper = first === first.toUpperCase()
  const start = letterNumber(first.toUpperCase())
  return (offset) => {
    const letters = lettersOf(start + offset)
    return upper ? letters : letters.toLowerCase()
  }
}

function letterNumber(letters: string): number {
  return [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0)
}

function lettersOf(value: number): string {
  let rest = value
  let letters = ''
  while (rest > 0) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters
    rest = Math.floor((rest - 1) / 26)
  }
  return letters
}

const fold = (tag: string) => tag.trim().toLowerCase()
