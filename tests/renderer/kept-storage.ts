/** A browser's storage, empty. */
export function storage() {
  const held = new Map<string, string>()
  return {
    getItem: (key: string) => held.get(key) ?? null,
    setItem: (key: string, value: string) => void held.set(key, value),
    removeItem: (key: string) => void held.delete(key),
    key: (index: number) => [...held.keys()][index] ?? null,
    get length() {
      return held.size
    },
  }
}
