import type { z } from 'zod'
import type { CheckFinding as CheckFindingSchema } from '#core/api/jobs.ts'
import { type MessageCode, message, type ParamsOf } from '#core/messages/say.ts'

export type CheckFinding = z.infer<typeof CheckFindingSchema>

/** The most findings of one kind that are told one by one. */
const TOLD_PER_CODE = 20

/** Collects what a check finds; of one kind only the first are told, the rest are counted. */
export class Findings {
  readonly #findings: CheckFinding[] = []
  readonly #seen = new Map<string, number>()
  #problems = 0

  get problems(): number {
    return this.#problems
  }

  problem<C extends MessageCode>(code: C, params: ParamsOf<C>): void {
    this.#problems += 1
    this.#add('problem', code, params)
  }

  note<C extends MessageCode>(code: C, params: ParamsOf<C>): void {
    this.#add('note', code, params)
  }

  ok<C extends MessageCode>(code: C, params: ParamsOf<C>): void {
    this.#add('ok', code, params)
  }

  all(): CheckFinding[] {
    return this.#findings.flatMap((finding, index) => {
      const { code } = finding.sentence
      const last = this.#findings.findLastIndex((other) => other.sentence.code === code) === index
      const more = (this.#seen.get(code) ?? 0) - TOLD_PER_CODE
      return last && more > 0 ? [finding, { kind: finding.kind, sentence: message('check.and_more', { more }) }] : [finding]
    })
  }

  #add<C extends MessageCode>(kind: CheckFinding['kind'], code: C, params: ParamsOf<C>): void {
    const seen = (this.#seen.get(code) ?? 0) + 1
    this.#seen.set(code, seen)
    if (seen <= TOLD_PER_CODE) this.#findings.push({ kind, sentence: { code, params: { ...params } } })
  }
}

/** The fields that do not have their form, as a person would look for them. */
export function fieldsOf(error: z.ZodError): string {
  return [...new Set(error.issues.map((issue) => issue.path.join('.') || 'the whole'))].slice(0, 5).join(', ')
}
