import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import path from 'node:path'
import { message } from '#core/messages/say.ts'
import { EXCHANGE_FORMAT_VERSION, Exchange } from '#core/model/exchange.ts'
import { naming, problem } from '../../project-file/problem.ts'
import { issueInWords } from '../input-words.ts'
import { ExchangeProblems } from './problems.ts'

/** An exchange file that has its form; what it says is checked while it is imported. */
export function readExchange(file: string): { exchange: Exchange; sha256: string } {
  const name = path.basename(file)
  const bytes = naming(file, () => readFileSync(file))
  const written = parse(bytes, name)
  if (isOfNewerFormat(written)) throw problem('newer_file', message('exchange.newer', { name }))
  const parsed = Exchange.safeParse(written)
  if (!parsed.success) {
    const problems = new ExchangeProblems()
    for (const issue of parsed.error.issues) {
      problems.add(
        issue.path.map((part) => (typeof part === 'number' ? part : String(part))),
        issueInWords(issue),
      )
    }
    problems.refuse()
    throw problem('invalid_input', message('exchange.not_json', { name }))
  }
  return { exchange: parsed.data, sha256: createHash('sha256').update(bytes).digest('hex') }
}

function parse(bytes: Buffer, name: string): unknown {
  try {
    // Some programs put a byte order mark in front, which is no part of the JSON.
    return JSON.parse(bytes.toString('utf8').replace(/^\ufeff/, ''))
  } catch (error) {
    throw problem('invalid_input', message('exchange.not_json', { name }), { cause: error })
  }
}

function isOfNewerFormat(written: unknown): boolean {
  return (
    typeof written === 'object' &&
    written !== null &&
    'formatVersion' in written &&
    typeof written.formatVersion === 'number' &&
    written.formatVersion > EXCHANGE_FORMAT_VERSION
  )
}
