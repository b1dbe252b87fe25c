import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { v7 } from 'uuid'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkProject } from '#electron/project-file/check/check.ts'
import { openProjectFile } from '#electron/project-file/open.ts'
import { classify, ProblemError } from '#electron/project-file/problem.ts'
import { sentenceOf } from '#tests/project-file/failure.ts'
import { makeSite, OPTIONS, recordReading, temporaryFolder } from '#tests/project-file/site.ts'
import { type PreparedRun, prepareRun } from './prepared-run.ts'
import { hasTracer, traceRecorder } from './traced-calls.ts'

it('a file that may grow no further: the reading is refused with what to do, everything before it stays', () => {
  const folder = temporaryFolder()
  const path = join(folder.path, 'Hall.facegrid')
  const { file, site } = makeSite(path, 5000)
  const pages = Number(file.db.pragma('page_count', { simple: true }))
  file.db.pragma(`max_page_count = ${pages + 3}`)
  const saved: string[] = []
  let failure: unknown = null
  for (let point = 1; point <= 200 && failure === null; point += 1) {
    try {
      saved.push(recordReading(file, site, point, 0.45))
    } catch (error) {
      failure = classify(error, path)
    }
  }
  expect(failure).toBeInstanceOf(ProblemError)
  const told = failure instanceof ProblemError ? failure.failure : null
  expect(told?.kind).toBe('disk_full')
  expect(told && sentenceOf(told.sentence)).toContain('Free some space, then repeat')
  expect(saved.length).toBeGreaterThan(0)
  expect(file.db.prepare('SELECT count(*) FROM reading').pluck().get()).toBe(saved.length)
  file.db.pragma('max_page_count = 1073741823')
  recordReading(file, site, 300, 0.45)
  expect(checkProject(file)?.filter(({ kind }) => kind !== 'ok')).toEqual([])
  file.close()
  folder.remove()
})

describe('a disk that is full for a while', () => {
  let prepared: PreparedRun
  beforeAll(async () => {
    prepared = await prepareRun()
    if (!hasTracer) console.warn('NOT RUN: writes refused by a full disk. strace is not installed here.')
  })
  afterAll(() => prepared.remove())

  /** The recorder, with the system answering "no space left" to some writes of SQLite in the middle of its second recording. */
  function recordOnFullDisk(error: string) {
    const calls = traceRecorder(prepared, 3)
    const begin = calls.findIndex(({ call, text }) => call === 'write' && text.startsWith(', "begin 1'))
    const first = calls.slice(begin).find(({ call }) => call === 'pwrite64')?.ordinal ?? 0
    const copy = prepared.fresh()
    try {
      const window = `inject=pwrite64:error=${error}:when=${first + 3}..${first + 3}`
      const { stdout } = spawnSync(
        'strace',
        ['-qq', '-o', '/dev/null', '-e', 'trace=pwrite64', '-e', window, ...copy.command(6, 'headless')],
        {
          encoding: 'utf8',
        },
      )
      const file = openProjectFile(copy.path, { ...OPTIONS, uuid: () => v7() })
      const typed = file.db.prepare('SELECT typed FROM reading ORDER BY id').pluck().all()
      const unsound = checkProject(file)?.filter(({ kind }) => kind !== 'ok')
      file.close()
      return { lines: stdout.trim().split('\n'), typed, unsound }
    } finally {
      copy.remove()
    }
  }

  it.runIf(hasTracer).each(['ENOSPC', 'EDQUOT'])('%s: one reading is refused, those before and after it are saved', (error) => {
    const { lines, typed, unsound } = recordOnFullDisk(error)
    const refused = lines.filter((line) => line.startsWith('refused'))
    expect(refused).toEqual(['refused 1 disk_full'])
    expect(lines.filter((line) => line.startsWith('answered')).map((line) => line.split(' ').at(-1))).toEqual(typed)
    expect(typed).toHaveLength(5)
    expect(lines.at(-1)).toBe('closed')
    expect(unsound).toEqual([])
  })
})
