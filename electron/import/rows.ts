import { createHash } from 'node:crypto'
import { closeSync, fstatSync, openSync, readSync } from 'node:fs'
import path from 'node:path'
import { Readable } from 'node:stream'
import Papa from 'papaparse'
import { message } from '#core/messages/say.ts'
import type { ImportMapping } from '#core/model/import-mapping.ts'
import { naming, problem } from '../project-file/problem.ts'
import { encodingOf, TELLING_BYTES } from './encoding.ts'

const READ_BYTES = 1 << 18
/** No logger writes a row of megabytes; a quotation mark that is never closed makes one of all the rest of a file. */
const MOST_CHUNKS_OF_A_ROW = 16

/** What goes through the parser, and what is known of the file when it has all gone through. */
type Source = {
  readonly text: Readable
  readonly facts: () => { readonly bytes: number; readonly sha256: string }
  /** no more is read: the stream hands out chunk after chunk without a pause, even to a parser that was aborted */
  readonly stop: () => void
  readonly close: () => void
}

function sourceOf(file: string, progress: (share: number) => void): Source {
  const handle = naming(file, () => openSync(file, 'r'))
  const hash = createHash('sha256')
  const size = Math.max(1, fstatSync(handle).size)
  let bytes = 0
  let stopped = false
  function* chunks(): Generator<string> {
    const start = Buffer.alloc(TELLING_BYTES)
    const first = start.subarray(0, readSync(handle, start))
    const decoder = new TextDecoder(encodingOf(first))
    const decoded = (chunk: Uint8Array) => {
      hash.update(chunk)
      bytes += chunk.length
      progress(Math.min(1, bytes / size))
      return decoder.decode(chunk, { stream: true })
    }
    yield decoded(first)
    const chunk = Buffer.alloc(READ_BYTES)
    while (!stopped) {
      const length = readSync(handle, chunk)
      if (length === 0) break
      yield decoded(chunk.subarray(0, length))
    }
    yield decoder.decode()
  }
  let closed = false
  return {
    text: Readable.from(chunks(), { objectMode: true }),
    facts: () => ({ bytes, sha256: hash.digest('hex') }),
    stop: () => {
      stopped = true
    },
    close: () => {
      if (!closed) closeSync(handle)
      closed = true
    },
  }
}

export type RowsWatch = { readonly progress: (share: number) => void; readonly cancelled: () => boolean }

/**
 * Reads a delimited file row by row, whatever its size. `take` is handed the rows with the number of the first of them, counted from 1.
 * Answers what the file is, by the bytes that were read; null when it was cancelled.
 */
export async function readRows(
  file: string,
  delimiter: ImportMapping['delimiter'],
  watch: RowsWatch,
  take: (rows: readonly (readonly string[])[], first: number) => void,
): Promise<{ bytes: number; sha256: string } | null> {
  const source = sourceOf(file, watch.progress)
  let next = 1
  let chunksWithoutRow = 0
  try {
    const goneThrough = await new Promise<boolean>((resolve, reject) => {
      Papa.parse<string[]>(source.text, {
        delimiter,
        skipEmptyLines: false,
        chunk: ({ data, errors }, parser) => {
          // What an aborted parser tells comes too late: the end is told first.
          if (watch.cancelled()) {
            resolve(false)
            source.stop()
            parser.abort()
            return
          }
          try {
            const [broken] = errors
            if (broken) {
              const params = { name: path.basename(file), detail: broken.message, row: next + (broken.row ?? 0) }
              throw problem('invalid_input', message('import.unreadable', params), { field: 'path' })
            }
            chunksWithoutRow = data.length > 0 ? 0 : chunksWithoutRow + 1
            if (chunksWithoutRow > MOST_CHUNKS_OF_A_ROW)
              throw problem('invalid_input', message('import.endless_row', { name: path.basename(file), row: next }), { field: 'path' })
            take(data, next)
            next += data.length
          } catch (error) {
            reject(error instanceof Error ? error : new Error(String(error)))
            source.stop()
            parser.abort()
          }
        },
        error: reject,
        complete: () => resolve(true),
      })
    })
    return goneThrough ? source.facts() : null
  } finally {
    source.text.destroy()
    source.close()
  }
}
