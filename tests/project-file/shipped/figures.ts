/** Words that are part of a result; sentences, titles and identities are not, and may be worded anew. */
const WORDS = new Set(['verdict', 'would', 'basis', 'phase', 'state', 'key', 'tag', 'name', 'number', 'code', 'alert', 'quantity', 'scope'])
const LEFT_OUT = new Set(['params', 'file', 'calculationVersion', 'criteriaSetRevision'])

/** The figures and verdicts of what `facegrid evaluate --all --json` printed. */
export function figuresOf(value: unknown, name = ''): unknown {
  if (typeof value === 'string') return WORDS.has(name) ? value : undefined
  if (Array.isArray(value)) return value.map((item) => figuresOf(item, name)).filter((item) => item !== undefined)
  if (typeof value !== 'object' || value === null) return value
  const kept = Object.entries(value)
    .filter(([key]) => !LEFT_OUT.has(key))
    .map(([key, item]) => [key, figuresOf(item, key)] as const)
    .filter(([, item]) => item !== undefined)
  return Object.fromEntries(kept)
}

/** Floating-point sums may differ in their last digits from one runtime to another. */
const RELATIVE = 1e-9

/** Where figures differ from what is expected, as paths; figures that only a later program gives are no difference. */
export function differences(expected: unknown, actual: unknown, path = '$'): string[] {
  if (typeof expected === 'number') {
    const near = typeof actual === 'number' && Math.abs(actual - expected) <= RELATIVE * Math.max(Math.abs(actual), Math.abs(expected))
    return near ? [] : [`${path}: ${String(actual)} instead of ${expected}`]
  }
  if (Array.isArray(expected)) {
    if (!Array.isArray(actual) || actual.length !== expected.length) return [`${path}: not ${expected.length} of them`]
    return expected.flatMap((item, index) => differences(item, actual[index], `${path}[${index}]`))
  }
  if (typeof expected === 'object' && expected !== null) {
    if (typeof actual !== 'object' || actual === null) return [`${path}: missing`]
    const found = new Map<string, unknown>(Object.entries(actual))
    return Object.entries(expected).flatMap(([key, item]) => differences(item, found.get(key), `${path}.${key}`))
  }
  return expected === actual ? [] : [`${path}: ${String(actual)} instead of ${String(expected)}`]
}
