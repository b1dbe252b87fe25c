/** A backup as its file name and size tell it. */
export type Backup = { readonly name: string; readonly atMs: number; readonly bytes: number }

const DAY_MS = 86_400_000
/** How many are kept of the last 24 hours, then one a day, then one a month. */
export const LADDER = { recent: 6, days: 14, months: 24 } as const

/**
 * Which backups to remove: those between the rungs of the ladder, then, oldest first, what goes beyond the budget of bytes. The newest
 * is always kept, even where it alone goes beyond.
 */
export function beyondLadder(backups: readonly Backup[], nowMs: number, budgetBytes: number): Backup[] {
  const newestFirst = backups.toSorted((a, b) => b.atMs - a.atMs)
  const recent = newestFirst.filter((backup) => nowMs - backup.atMs < DAY_MS).slice(0, LADDER.recent)
  const daily = newestOfEach(newestFirst, (backup) => dayOf(backup).slice(0, 10)).slice(0, LADDER.days)
  const monthly = newestOfEach(newestFirst, (backup) => dayOf(backup).slice(0, 7)).slice(0, LADDER.months)
  const onLadder = new Set([...newestFirst.slice(0, 1), ...recent, ...daily, ...monthly])
  let bytes = 0
  const kept = newestFirst.filter((backup, index) => {
    if (!onLadder.has(backup)) return false
    bytes += backup.bytes
    return index === 0 || bytes <= budgetBytes
  })
  return newestFirst.filter((backup) => !kept.includes(backup))
}

function newestOfEach(newestFirst: readonly Backup[], key: (backup: Backup) => string): Backup[] {
  const newest = new Map<string, Backup>()
  for (const backup of newestFirst) if (!newest.has(key(backup))) newest.set(key(backup), backup)
  return [...newest.values()]
}

function dayOf(backup: Backup): string {
  return new Date(backup.atMs).toISOString()
}
