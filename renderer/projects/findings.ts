import { z } from 'zod'
import { CheckFinding } from '#core/api/jobs.ts'

export type Finding = z.infer<typeof CheckFinding>

const Outcome = z.looseObject({ findings: z.array(CheckFinding).min(1) })

/** What a check found. Null when its result says nothing: silence must never read as "nothing wrong". */
export function findingsOf(result: unknown): Finding[] | null {
  const outcome = Outcome.safeParse(result)
  return outcome.success ? outcome.data.findings : null
}
