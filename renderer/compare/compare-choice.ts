import { useSearchParams } from 'wouter'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { newestFirst } from '../app/certification-shown.ts'
import { useSession, useShownCertification } from '../app/session.tsx'

type Certification = Entity<'certification'>

export type CompareChoice = {
  /** the visit the whole window speaks of */
  readonly now: Certification | null
  readonly earlier: Certification | null
  /** visits it may be held against, newest first */
  readonly candidates: readonly Certification[]
  readonly roomId: Uuid | null
  readonly chooseThen: (id: Uuid) => void
  readonly chooseRoom: (id: Uuid | null) => void
}

/** The visit before this one: the one it was started from, else the last that began earlier. */
export function visitBefore(now: Certification, all: readonly Certification[]): Certification | null {
  const started = all.find((candidate) => candidate.id === now.body.previousId)
  return started ?? newestFirst(all).find((candidate) => candidate.id !== now.id && candidate.body.startsOn <= now.body.startsOn) ?? null
}

/** What is compared with what, kept in the address. */
export function useCompareChoice(): CompareChoice {
  const { certifications } = useSession()
  const now = useShownCertification()
  const [search, setSearch] = useSearchParams()
  const candidates = newestFirst(certifications).filter((candidate) => candidate.id !== now?.id)
  const chosen = candidates.find((candidate) => candidate.id === search.get('then'))
  const change = (key: 'then' | 'room', value: string | null) =>
    setSearch(
      (before) => {
        const next = new URLSearchParams(before)
        if (value === null) next.delete(key)
        else next.set(key, value)
        return next
      },
      { replace: true },
    )
  return {
    now,
    earlier: chosen ?? (now ? (visitBefore(now, certifications) ?? candidates[0] ?? null) : null),
    candidates,
    roomId: search.get('room'),
    chooseThen: (id) => change('then', id),
    chooseRoom: (id) => change('room', id),
  }
}
