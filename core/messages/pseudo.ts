const OPEN = '\uE000'
const CLOSE = '\uE001'
const ACCENTED: Record<string, string> = {
  a: 'á',
  c: 'ç',
  e: 'é',
  g: 'ĝ',
  h: 'ĥ',
  i: 'í',
  j: 'ĵ',
  k: 'ķ',
  l: 'ĺ',
  n: 'ñ',
  o: 'ó',
  r: 'ŕ',
  s: 'š',
  t: 'ţ',
  u: 'ú',
  w: 'ŵ',
  y: 'ý',
  z: 'ž',
  A: 'Á',
  C: 'Ç',
  E: 'É',
  G: 'Ĝ',
  H: 'Ĥ',
  I: 'Í',
  J: 'Ĵ',
  K: 'Ķ',
  L: 'Ĺ',
  N: 'Ñ',
  O: 'Ó',
  R: 'Ŕ',
  S: 'Š',
  T: 'Ţ',
  U: 'Ú',
  W: 'Ŵ',
  Y: 'Ý',
  Z: 'Ž',
}

/** Fences text parameters, so that names and tags stay as the user wrote them while the catalogue's own words are accented. */
export function markParams(params: Record<string, unknown>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(params).map(([name, value]) => [name, typeof value === 'string' ? OPEN + value + CLOSE : value]))
}

/** Accents every letter of the catalogue's own words: text that stays plain in this language never went through the catalogue. */
export function toPseudo(sentence: string): string {
  let depth = 0
  let out = ''
  for (const character of sentence) {
    if (character === OPEN) depth += 1
    else if (character === CLOSE) depth -= 1
    else out += depth > 0 ? character : (ACCENTED[character] ?? character)
  }
  return out
}
