import { message, say } from '#core/messages/say.ts'
import type { Sentence } from '#core/model/results.ts'
import { createFormatter } from '#core/units/format.ts'
import { ProblemError, problem } from '../../project-file/problem.ts'

export type ExchangePath = readonly (string | number)[]

/** A place in the exchange file, such as $.entities[3].body.ceilingHeight. */
function jsonPath(path: ExchangePath): string {
  return `$${path.map((part) => (typeof part === 'number' ? `[${part}]` : `.${part}`)).join('')}`
}

function fieldBelow(within: string, field: string | null): (string | number)[] {
  if (field !== null && /^[A-Za-z]+$/.test(field)) return [field]
  if (!field?.startsWith(`${within}.`)) return []
  return pathOf(field.slice(within.length + 1))
}

/** A field as rules name it, such as senses.0.low, as a path. */
export function pathOf(field: string): (string | number)[] {
  return field.split('.').map((part) => (/^\d+$/.test(part) ? Number(part) : part))
}

/** Collects what does not fit, so that one attempt tells it all. */
export class ExchangeProblems {
  readonly #found: { path: string; detail: string }[] = []

  add(path: ExchangePath, detail: string): void {
    // The sentences are put together with others, each of which gets its full stop there.
    this.#found.push({ path: jsonPath(path), detail: detail.replace(/\.$/, '') })
  }

  /** Runs `work`; a named failure in it becomes a problem at this place, and at the field it names: below `within`, or by itself. */
  at<T>(path: ExchangePath, work: () => T, within: string): T | null {
    try {
      return work()
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error
      this.add([...path, ...fieldBelow(within, error.failure.field)], sentenceInWords(error.failure.sentence))
      return null
    }
  }

  /** Refuses the import when anything was found. */
  refuse(): void {
    const [first] = this.#found
    if (!first) return
    const others = this.#found.slice(1, 5).map(({ path, detail }) => `${path}: ${detail}`)
    throw problem('invalid_input', message('exchange.problem', { ...first, others, more: this.#found.length - 1 - others.length }), {
      field: first.path,
    })
  }
}

const plain = createFormatter({ velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' }, 'en', 'UTC')

/** A sentence for someone who reads an exchange file, in SI units. */
export function sentenceInWords({ code, params }: Sentence): string {
  return say('en', plain, code, params)
}
