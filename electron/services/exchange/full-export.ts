import { EXCHANGE_FORMAT_VERSION } from '#core/model/exchange.ts'
import type { Stores } from '../../project-file/stores.ts'

/**
 * The full exchange form of a project, line by line: everything the file holds, in the order of its keys, so that the same project
 * always gives the same bytes. Bodies go out as they are stored, which is canonical JSON.
 */
export function* fullExchange(stores: Stores): Generator<string> {
  const rows = stores.exchange
  yield `{"format":"facegrid exchange","formatVersion":${EXCHANGE_FORMAT_VERSION},"form":"full"`
  yield* list('segments', rows.segments(), (segment) => JSON.stringify(segment))
  yield* list('trail', rows.entries(), ({ hash, body }) => `{"hash":"${hash}","body":${body}}`)
  const entities = rows.entities()
  yield* list('entities', entities, ({ rowId, kind, id, parentId }) => {
    const revisions = rows.revisionPlaces(rowId).map(({ entry, body }) => `{"entry":"${entry}","body":${body ?? 'null'}}`)
    return `${JSON.stringify({ kind, id, parentId }).slice(0, -1)},"revisions":[${revisions.join(',')}]}`
  })
  yield* list(
    'runs',
    entities.filter(({ kind }) => kind === 'run'),
    ({ rowId, id }) =>
      JSON.stringify({
        runId: id,
        pins: stores.runs.pins(rowId).map((pin) => ({ id: pin.id, revision: pin.revision })),
        points: stores.runs.everyLocation(rowId).map(({ location, retired }) => ({ ...location, retired })),
      }),
  )
  yield* list('readings', rows.readings(), (reading) => JSON.stringify(reading))
  const signed = entities.flatMap(({ rowId, kind, id }) =>
    kind === 'run' ? stores.results.signedOf(rowId).map((result) => ({ ...result, runId: id })) : [],
  )
  yield* list('signedResults', signed, ({ runId, entryId, calculationVersion, sha256, body }) => {
    const start = JSON.stringify({ runId, entry: rows.entryPlace(entryId), calculationVersion, sha256 })
    return `${start.slice(0, -1)},"result":${body}}`
  })
  const attachments = stores.attachments.all()
  yield* list('attachments', attachments, ({ entryId, ...attachment }) =>
    JSON.stringify({ ...attachment, entry: rows.entryPlace(entryId) }),
  )
  const contents = [...new Set(attachments.map(({ sha256 }) => sha256))]
  yield* list('contents', contents, (sha256) => JSON.stringify({ sha256, base64: stores.attachments.content(sha256).toString('base64') }))
  yield '\n}\n'
}

function* list<T>(name: string, items: Iterable<T>, write: (item: T) => string): Generator<string> {
  yield `,\n"${name}":[`
  let first = true
  for (const item of items) {
    yield `${first ? '' : ','}\n${write(item)}`
    first = false
  }
  yield first ? ']' : '\n]'
}
