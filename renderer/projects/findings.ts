import { z } from 'zod'
import { CheckFinding } from '#core/api/jobs.ts'

export type Finding = z.infer<typeof CheckFinding>

const Outcome = z.looseObject({ findings: z.array(CheckFinding).min(1) })

const RANK = { problem: 0, note: 1, ok: 2 } as const

/** What a check found, what is wrong first. Null when its result says nothing: silence must never read as "nothing wrong". */
export function findingsOf(result: unknown): Finding[] | null {
  const outcome = Outcome.safeParse(result)
  return outcome.success ? outcome.data.findings.toSorted((a, b) => RANK[a.kind] - RANK[b.kind]) : null
}
