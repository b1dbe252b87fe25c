import { readFileSync } from 'node:fs'
import { v7 } from 'uuid'
import { type ImportInto, ImportOutcome } from '#core/api/imports.ts'
import { message } from '#core/messages/say.ts'
import { ImportMapping } from '#core/model/import-mapping.ts'
import type { Sentence } from '#core/model/results.ts'
import { refuseHeld } from '../project-file/held.ts'
import { ProblemError, problem } from '../project-file/problem.ts'
import { EXIT } from './evaluate.ts'
import type { Client } from './run.ts'

export type ImportArguments = {
  readonly file: string
  readonly mapping: string
  readonly run: string | null
  readonly certification: string | null
  readonly person: string | null
  readonly instrument: string | null
  readonly firstPoint: number | null
  readonly dryRun: boolean
  readonly again: boolean
}

const MOST_TOLD = 50
const ASK_EVERY_MS = 50

/** Imports a delimited file into the open project, or looks at every row of it. */
export async function importReadings(client: Client, given: ImportArguments): Promise<ImportOutcome> {
  const mapping = await mappingOf(client, given.mapping)
  const into = await intoOf(client, given)
  const [personId, instrumentId] = [await personOf(client, given.person), await instrumentOf(client, given.instrument)]
  const { file: path, dryRun, again } = given
  let job = await client.imports.start({ command: { id: v7(), personId, reason: '' }, path, into, mapping, instrumentId, dryRun, again })
  while (job.state === 'running') {
    await new Promise((resolve) => setTimeout(resolve, ASK_EVERY_MS))
    job = await client.jobs.get({ id: job.id })
  }
  if (job.failure) throw new ProblemError(job.failure)
  return ImportOutcome.parse(job.result)
}

/** What became of it, line by line. */
export function importText(outcome: ImportOutcome, words: (sentence: Sentence) => string): string {
  const { problems, problemRows } = outcome
  const lines = problems.slice(0, MOST_TOLD).map(({ row, sentence }) => message('cli.import.problem', { row, why: words(sentence) }))
  if (problemRows > lines.length) lines.push({ code: 'cli.import.problem', params: { row: null, why: String(problemRows - lines.length) } })
  const { rows, readings, name, imported } = outcome
  const notes = outcome.notes.map(words)
  const earlier = outcome.earlier.map(({ at, name: known }) => words(message('cli.import.earlier', { at, name: known })))
  const end = words(message('cli.import.end', { name, rows, readings, problemRows, imported }))
  return [...lines.map(words), ...notes, ...earlier, ...(outcome.refused ? [words(outcome.refused)] : []), end, ''].join('\n')
}

export function importExit({ problemRows }: ImportOutcome): number {
  return problemRows > 0 ? EXIT.fail : EXIT.pass
}

async function mappingOf(client: Client, given: string): Promise<ImportMapping> {
  if (given.endsWith('.json')) {
    const read = ImportMapping.safeParse(jsonOf(given))
    if (read.success) return read.data
    const [issue] = read.error.issues
    throw problem(
      'invalid_input',
      message('cli.import.bad_mapping', { name: given, path: issue?.path.join('.') ?? '', detail: issue?.message ?? '' }),
    )
  }
  const mappings = await client.entities.list({ kinds: ['import_mapping'], within: null })
  const found = mappings.find((entity) => entity.kind === 'import_mapping' && (entity.id === given || entity.body.name === given))
  if (found?.kind !== 'import_mapping') throw problem('not_found', message('cli.import.no_mapping', { name: given }))
  return found.body
}

function jsonOf(file: string): unknown {
  refuseHeld(file, 'mapping')
  try {
    return JSON.parse(readFileSync(file, 'utf8'))
  } catch (error) {
    const detail = error instanceof Error ? error.message : String(error)
    throw problem('invalid_input', message('cli.import.bad_mapping', { name: file, path: '', detail }), { cause: error })
  }
}

async function intoOf(client: Client, { run, certification, firstPoint }: ImportArguments): Promise<ImportInto> {
  if (run !== null) return { kind: 'run', runId: run, firstPoint }
  const certifications = await client.entities.list({ kinds: ['certification'], within: null })
  const found = certifications.find(
    (entity) => entity.kind === 'certification' && (entity.id === certification || entity.body.name === certification),
  )
  if (found) return { kind: 'certification', certificationId: found.id }
  throw certification === null
    ? problem('invalid_input', message('cli.missing_argument', { name: '--run / --certification', command: 'import-readings' }))
    : problem('not_found', message('cli.no_such_certification', { name: certification }))
}

/** The one of that name; without a name the only one in use, because somebody has to answer for what is written. */
async function personOf(client: Client, name: string | null): Promise<string> {
  const people = await client.entities.list({ kinds: ['person'], within: null })
  const active = people.flatMap((entity) => (entity.kind === 'person' && entity.body.active ? [entity] : []))
  const [only, second] = active.filter(({ id, body }) => name === null || id === name || body.name === name)
  if (only && !second) return only.id
  throw problem('invalid_input', message('cli.missing_argument', { name: '--person NAME', command: 'import-readings' }))
}

async function instrumentOf(client: Client, serial: string | null): Promise<string | null> {
  if (serial === null) return null
  const instruments = await client.entities.list({ kinds: ['instrument'], within: null })
  const found = instruments.find((entity) => entity.kind === 'instrument' && entity.body.serialNumber === serial)
  if (found) return found.id
  throw problem('not_found', message('import.unknown_instrument', { serial }))
}
