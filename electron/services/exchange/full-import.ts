import { ENTITY_SCHEMAS } from '#core/model/entities.ts'
import type { FullExchange } from '#core/model/exchange.ts'
import { checkStoredBody } from '#core/model/stored-rules.ts'
import { sha256Of } from '../../project-file/attachments.ts'
import { canonicalJson } from '../../project-file/canonical.ts'
import { firstHash } from '../../project-file/segment.ts'
import type { Stores } from '../../project-file/stores.ts'
import { entryHash } from '../../project-file/trail.ts'
import { ExchangeProblems, pathOf, sentenceInWords } from './problems.ts'

/** Writes every row of a full exchange form into an empty project file. Inside a transaction: a problem leaves nothing behind. */
export function importFull(stores: Stores, full: FullExchange): void {
  const problems = new ExchangeProblems()
  importTrail(stores, full, problems)
  problems.refuse()
  importEntities(stores, full, problems)
  problems.refuse()
  importRuns(stores, full, problems)
  problems.refuse()
  importReadings(stores, full, problems)
  importResults(stores, full, problems)
  importAttachments(stores, full, problems)
  problems.refuse()
}

function importTrail(stores: Stores, full: FullExchange, problems: ExchangeProblems): void {
  const heads = new Map<string, { number: number; hash: Buffer }>()
  for (const [index, segment] of full.segments.entries()) {
    const { id, firstHash: claimed, ...start } = segment
    const hash = firstHash({ ...start, segmentId: id })
    if (hash.toString('hex') !== claimed) problems.add(['segments', index, 'firstHash'], 'does not fit what this segment says')
    if (heads.has(id)) problems.add(['segments', index, 'id'], 'is there twice')
    else stores.exchange.insertSegment(segment)
    heads.set(id, { number: 0, hash })
  }
  for (const [index, { hash, body }] of full.trail.entries()) {
    const head = heads.get(body.segmentId)
    const text = canonicalJson(body)
    if (!head) problems.add(['trail', index, 'body', 'segmentId'], 'is no segment of this file')
    else if (body.number !== head.number + 1) problems.add(['trail', index, 'body', 'number'], `does not follow number ${head.number}`)
    else if (entryHash(head.hash, text).toString('hex') !== hash) {
      problems.add(['trail', index, 'hash'], 'does not fit the entry and the one before it')
    } else {
      stores.exchange.insertEntry({ ...body, body: text, hash })
      heads.set(body.segmentId, { number: body.number, hash: Buffer.from(hash, 'hex') })
    }
  }
}

function importEntities(stores: Stores, full: FullExchange, problems: ExchangeProblems): void {
  const known = new Set<string>()
  for (const [index, entity] of full.entities.entries()) {
    const place = ['entities', index] as const
    if (known.has(entity.id)) problems.add([...place, 'id'], 'is there twice')
    if (entity.parentId !== null && !known.has(entity.parentId)) problems.add([...place, 'parentId'], 'comes later or is missing')
    for (const [number, { body }] of entity.revisions.entries()) {
      if (body === null) continue
      const parsed = ENTITY_SCHEMAS[entity.kind].safeParse(body)
      for (const issue of parsed.error?.issues ?? []) {
        const within = issue.path.map((part) => (typeof part === 'number' ? part : String(part)))
        problems.add([...place, 'revisions', number, 'body', ...within], issue.message)
      }
      for (const { field, ...broken } of parsed.success ? checkStoredBody(entity.kind, parsed.data) : []) {
        problems.add([...place, 'revisions', number, 'body', ...pathOf(field)], sentenceInWords(broken))
      }
    }
    known.add(entity.id)
  }
  problems.refuse()
  for (const [index, entity] of full.entities.entries()) {
    inPlace(problems, ['entities', index], () =>
      stores.exchange.insertEntity({
        ...entity,
        revisions: entity.revisions.map(({ entry, body }) => ({ entry, body: body === null ? null : canonicalJson(body) })),
      }),
    )
  }
}

function importRuns(stores: Stores, full: FullExchange, problems: ExchangeProblems): void {
  const { exchange, runs } = stores
  for (const [index, run] of full.runs.entries()) {
    inPlace(problems, ['runs', index], () => {
      const runRow = exchange.entityRow(run.runId)
      for (const pin of run.pins) runs.pin(runRow, exchange.entityRow(pin.id), pin.revision)
      for (const { retired, ...location } of run.points) {
        runs.addLocation(runRow, location, location.terminalId === null ? null : exchange.entityRow(location.terminalId), retired)
      }
    })
  }
}

function importReadings(stores: Stores, full: FullExchange, problems: ExchangeProblems): void {
  // The file was empty: rows follow each other in the order of the list.
  const rowIds = new Map(full.readings.map((reading, index) => [reading.id, index + 1]))
  for (const [index, reading] of full.readings.entries()) {
    const next = reading.voided?.replacedBy ?? null
    const replacedBy = next === null ? null : (rowIds.get(next) ?? null)
    if (next !== null && replacedBy === null) problems.add(['readings', index, 'voided', 'replacedBy'], 'is no reading of this file')
    else inPlace(problems, ['readings', index], () => stores.exchange.insertReading(reading, index + 1, replacedBy))
  }
}

function importResults(stores: Stores, full: FullExchange, problems: ExchangeProblems): void {
  for (const [index, { runId, entry, calculationVersion, sha256, result }] of full.signedResults.entries()) {
    const body = canonicalJson(result)
    if (sha256Of(body) !== sha256) problems.add(['signedResults', index, 'sha256'], 'does not fit the result')
    else {
      inPlace(problems, ['signedResults', index], () =>
        stores.results.insertSigned({
          runRowId: stores.exchange.entityRow(runId),
          entryId: stores.exchange.entryId(entry),
          calculationVersion,
          body,
          sha256,
        }),
      )
    }
  }
}

function importAttachments(stores: Stores, full: FullExchange, problems: ExchangeProblems): void {
  const contents = new Set<string>()
  for (const [index, { sha256, base64 }] of full.contents.entries()) {
    const content = Buffer.from(base64, 'base64')
    if (sha256Of(content) !== sha256) problems.add(['contents', index, 'sha256'], 'does not fit the content')
    else contents.add(stores.attachments.addContent(content))
  }
  for (const [index, attachment] of full.attachments.entries()) {
    if (!contents.has(attachment.sha256)) problems.add(['attachments', index, 'sha256'], 'has no content in this file')
    else inPlace(problems, ['attachments', index], () => stores.exchange.insertAttachment(attachment))
  }
}

/** Writes rows that the form alone cannot vouch for: what the file's own rules refuse is told with its place. */
function inPlace(problems: ExchangeProblems, path: readonly (string | number)[], work: () => void): void {
  try {
    work()
  } catch (error) {
    problems.add(path, error instanceof Error ? error.message : String(error))
  }
}
