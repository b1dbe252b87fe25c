export type Difference = { readonly path: string; readonly before: unknown; readonly after: unknown }

/**
 * Which fields of a body differ, as dotted paths in the order of the body. Values with a text as typed count as one; a list of
 * another length counts as one. Absent and null are the same.
 */
export function differences(before: unknown, after: unknown, path = ''): Difference[] {
  if (same(before, after)) return []
  if (isPlain(before) && isPlain(after) && !isEntered(before) && !isEntered(after)) {
    const names = [...new Set([...Object.keys(before), ...Object.keys(after)])]
    return names.flatMap((name) => differences(before[name], after[name], path ? `${path}.${name}` : name))
  }
  if (Array.isArray(before) && Array.isArray(after) && before.length === after.length && before.some(isPlain)) {
    return before.flatMap((item: unknown, index) => differences(item, after[index], `${path}.${index}`))
  }
  return [{ path, before: before ?? null, after: after ?? null }]
}

export function isPlain(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

export function isEntered(value: unknown): value is { si: number; typed: string; unit: string } {
  return isPlain(value) && typeof value.si === 'number' && typeof value.typed === 'string' && typeof value.unit === 'string'
}

function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a ?? null) === JSON.stringify(b ?? null)
}
