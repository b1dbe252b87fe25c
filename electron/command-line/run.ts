import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { parseArgs } from 'node:util'
import { createRouterClient, ORPCError, type RouterClient } from '@orpc/server'
import { Failure } from '#core/api/errors.ts'
import { message } from '#core/messages/say.ts'
import { exchangeJsonSchema } from '#core/model/exchange-schema.ts'
import type { Sentence } from '#core/model/results.ts'
import type { Engine, EngineOptions } from '../engine.ts'
import { plainWords } from '../plain-words.ts'
import { ProblemError, problem } from '../project-file/problem.ts'
import { PROJECT_EXTENSION } from '../services/folders.ts'
import { checkFile } from '../services/job-work.ts'
import { EXIT, evaluate, exitOf } from './evaluate.ts'
import { importExit, importReadings, importText } from './import-readings.ts'
import { inquire, isInquiry } from './inquiries.ts'
import { inUnits } from './json-form.ts'
import { evaluationText } from './text-form.ts'

export type Streams = { readonly out: (text: string) => void; readonly error: (text: string) => void }
export type Client = RouterClient<Engine['router']>
/** How the command line gets its engine: the real clock and identities, or a test's. */
export type StartEngine = (options: Pick<EngineOptions, 'host' | 'access' | 'settingsFolder'>) => Engine

const OPTIONS = {
  json: { type: 'boolean', default: false },
  help: { type: 'boolean', default: false },
  all: { type: 'boolean', default: false },
  certification: { type: 'string' },
  room: { type: 'string' },
  instrument: { type: 'string' },
  filter: { type: 'string' },
  figure: { type: 'string' },
  criteria: { type: 'string' },
  set: { type: 'string' },
  name: { type: 'string' },
  person: { type: 'string' },
  organisation: { type: 'string', default: '' },
  'time-zone': { type: 'string' },
  mapping: { type: 'string' },
  run: { type: 'string' },
  'first-point': { type: 'string' },
  'dry-run': { type: 'boolean', default: false },
  again: { type: 'boolean', default: false },
} as const

type Arguments = ReturnType<typeof parseArgs<{ options: typeof OPTIONS; allowPositionals: true }>>
type Task = { readonly command: string; readonly values: Arguments['values']; readonly files: readonly string[]; readonly streams: Streams }

const words = plainWords

/** Runs one command and answers the exit status. Nothing but this function's streams is written to. */
export async function runCommandLine(args: readonly string[], streams: Streams, start: StartEngine): Promise<number> {
  try {
    const { values, positionals } = parseArgs({ args: [...args], options: OPTIONS, allowPositionals: true })
    const [command, ...files] = positionals
    if (command === undefined || values.help) {
      streams.out(words(message('cli.usage', {})))
      return command === undefined && !values.help ? EXIT.error : EXIT.pass
    }
    return await dispatch({ command, values, files, streams }, start)
  } catch (error) {
    streams.error(`${inWords(error)}\n`)
    return EXIT.error
  }
}

/** How many files each command takes; a file too many is most likely a slip. */
const FILES: { readonly [command: string]: number } = {
  schema: 0,
  check: 1,
  new: 1,
  demo: 1,
  import: 2,
  export: 2,
  'import-readings': 2,
  evaluate: 1,
  balance: 1,
  'what-if': 1,
  recalculate: 1,
  budget: 1,
  preview: 1,
  traverses: 1,
}

async function dispatch(task: Task, start: StartEngine): Promise<number> {
  const { command, values, files, streams } = task
  const extra = files[FILES[command] ?? files.length]
  if (extra !== undefined) throw problem('invalid_input', message('cli.too_many_arguments', { command, extra }))
  switch (command) {
    case 'schema':
      streams.out(`${JSON.stringify(exchangeJsonSchema(), null, 1)}\n`)
      return EXIT.pass
    case 'check':
      return check(file(task, 0, 'FILE'), values.json, streams)
    case 'new':
    case 'demo':
    case 'import':
    case 'export':
    case 'import-readings':
    case 'evaluate':
    case 'balance':
    case 'what-if':
    case 'recalculate':
    case 'budget':
    case 'preview':
    case 'traverses':
      return withEngine(start, (client, engine) => withClient(task, client, engine))
    default:
      throw problem('invalid_input', message('cli.unknown_command', { command }))
  }
}

async function withClient(task: Task, client: Client, { demo }: { demo: (target: string) => Promise<void> }): Promise<number> {
  const { command, values, streams } = task
  const told = (sentence: Sentence) => {
    streams.out(`${words(sentence)}\n`)
    return EXIT.pass
  }
  if (command === 'new') {
    const { path: made } = await client.files.create({
      path: file(task, 0, 'FILE'),
      project: {
        name: text(task, 'name'),
        organisation: values.organisation,
        timeZone: values['time-zone'] ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
        display: { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
        note: '',
      },
      person: { name: text(task, 'person'), role: 'certifier', organisation: values.organisation, active: true },
    })
    return told(message('cli.made', { path: made }))
  }
  if (command === 'demo') {
    const given = file(task, 0, 'FILE')
    const target = given.endsWith(PROJECT_EXTENSION) ? given : given + PROJECT_EXTENSION
    await demo(target)
    return told(message('cli.made', { path: target }))
  }
  if (command === 'import') {
    const opened = await client.files.importExchange({ exchangePath: file(task, 0, 'EXCHANGE'), path: file(task, 1, 'FILE') })
    told(message('cli.made', { path: opened.path }))
    for (const notice of opened.notices) told(notice)
    return EXIT.pass
  }
  if (command === 'import-readings') return importInto(task, client)
  await client.files.open({ path: file(task, 0, 'FILE'), readOnly: true })
  if (command === 'export') return told(message('cli.written', await client.files.exportExchange({ path: file(task, 1, 'EXCHANGE') })))
  if (isInquiry(command)) {
    const { certification = null, room = null, instrument = null, filter = null, figure = null, set = null, json } = values
    const criteria = values.criteria === undefined ? null : path.resolve(values.criteria)
    streams.out(await inquire(client, command, { certification, room, instrument, filter, figure, criteria, set }, json))
    return EXIT.pass
  }
  if (values.all && values.certification !== undefined) throw problem('invalid_input', message('cli.all_or_one', {}))
  const evaluation = await evaluate(client, file(task, 0, 'FILE'), { certification: values.certification ?? null, all: values.all })
  streams.out(values.json ? `${JSON.stringify(inUnits(evaluation), null, 1)}\n` : evaluationText(evaluation))
  return exitOf(evaluation)
}

async function importInto(task: Task, client: Client): Promise<number> {
  const { values, streams } = task
  const mapping = text(task, 'mapping')
  const first = values['first-point'] ?? null
  if (first !== null && !/^[1-9]\d*$/.test(first)) throw problem('invalid_input', message('import.not_whole', { text: first }))
  await client.files.open({ path: file(task, 0, 'FILE'), readOnly: values['dry-run'] })
  const outcome = await importReadings(client, {
    file: file(task, 1, 'DATA'),
    mapping: mapping.endsWith('.json') ? path.resolve(mapping) : mapping,
    run: values.run ?? null,
    certification: values.certification ?? null,
    person: values.person ?? null,
    instrument: values.instrument ?? null,
    firstPoint: first === null ? null : Number(first),
    dryRun: values['dry-run'],
    again: values.again,
  })
  const told = { ...outcome, problems: outcome.problems.map((row) => ({ ...row, why: words(row.sentence) })) }
  streams.out(values.json ? `${JSON.stringify(told, null, 1)}\n` : importText(outcome, words))
  return importExit(outcome)
}

function check(projectPath: string, json: boolean, streams: Streams): number {
  const findings = checkFile(projectPath)?.findings ?? []
  const sound = findings.every(({ kind }) => kind !== 'problem')
  if (json) {
    const told = findings.map(({ kind, sentence }) => ({ kind, ...sentence, text: words(sentence) }))
    streams.out(`${JSON.stringify({ file: projectPath, sound, findings: told }, null, 1)}\n`)
  } else {
    for (const { kind, sentence } of findings) streams.out(`${kind}: ${words(sentence)}\n`)
    streams.out(`${words(sound ? message('cli.check_sound', {}) : message('cli.check_broken', {}))}\n`)
  }
  return sound ? EXIT.pass : EXIT.fail
}

/** Scripts may touch any file their user may, and leave no trace in the settings of the screen. */
async function withEngine<T>(
  start: StartEngine,
  work: (client: Client, more: { demo: (target: string) => Promise<void> }) => Promise<T>,
): Promise<T> {
  const settingsFolder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-command-'))
  const access = { roots: () => [], allow: (requested: string) => path.resolve(requested) }
  const engine = start({ host: 'headless', access, settingsFolder })
  try {
    return await work(createRouterClient(engine.router), { demo: engine.buildDemo })
  } finally {
    await engine.close()
    rmSync(settingsFolder, { recursive: true, force: true })
  }
}

function file(task: Task, index: number, name: string): string {
  const given = task.files[index]
  if (given === undefined) throw problem('invalid_input', message('cli.missing_argument', { name, command: task.command }))
  return path.resolve(given)
}

function text(task: Task, name: 'name' | 'person' | 'mapping'): string {
  const given = task.values[name]
  if (given === undefined) throw problem('invalid_input', message('cli.missing_argument', { name: `--${name}`, command: task.command }))
  return given
}

function inWords(error: unknown): string {
  if (error instanceof ProblemError) return words(error.failure.sentence)
  if (error instanceof ORPCError) {
    const failure = Failure.safeParse(error.data)
    if (failure.success) return words(failure.data.sentence)
  }
  return error instanceof Error ? error.message : String(error)
}
