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

function textsIn(value: unknown): string[] {
  if (typeof value === 'string') return value === '' ? [] : [value]
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsIn) : []
}

function accented(words: string): string {
  return Array.from(words, (character) => ACCENTED[character] ?? character).join('')
}

/**
 * Accents every letter of the catalogue's own words: text that stays plain in this language never went through the catalogue.
 * Texts that came in as parameters (names, tags, what was typed) stay as they are, wherever they stand in the sentence.
 */
export function toPseudo(sentence: string, params: Record<string, unknown>): string {
  const texts = textsIn(params).sort((a, b) => b.length - a.length)
  let out = ''
  let words = ''
  for (let at = 0; at < sentence.length; ) {
    const text = texts.find((one) => sentence.startsWith(one, at))
    if (text === undefined) {
      words += sentence[at]
      at += 1
    } else {
      out += accented(words) + text
      words = ''
      at += text.length
    }
  }
  return out + accented(words)
}
