import path from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { RunResult } from '#core/model/results.ts'
import { openForCheck } from '#electron/project-file/read-only.ts'
import { checkFile } from '#electron/services/job-work.ts'
import { recalculateSigned } from '#electron/services/signed-recalculation.ts'
import { buildSite, type House, record, type Site, startHouse, startRun } from './bench-site.ts'
import { facegrid } from './command-line.ts'

// A difference between what was signed and today's calculation is called a changed calculation, never tampering.

let house: House
let site: Site
let file: string
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  file = path.join(house.folder, 'site.facegrid')
  const runId = await startRun(house, site)
  for (const { number } of (await house.client.runs.get({ runId })).locations) await record(house, site, runId, number, '0.5')
  for (const step of [house.client.runs.complete, null]) {
    const { run } = await house.client.runs.get({ runId })
    const order = { command: house.newCommand(site.personId), runId, revision: run.revision }
    await (step ? step(order) : house.client.runs.sign({ ...order, meaning: 'performed' }))
  }
  const [person] = await house.client.entities.list({ kinds: ['person'], within: null })
  if (person?.kind !== 'person') throw new Error('the bench site has a person')
  // One more entry after the signature, which the second test files its other rows under.
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'edit',
    scope: 'project',
    changes: [
      { kind: 'person', id: person.id, parentId: null, revision: person.revision, body: { ...person.body, organisation: 'House' } },
    ],
  })
  await house.engine.close()
})
afterEach(() => house.engine.close())

test('a signed run that computes the same today is said to', () => {
  const findings = checkFile(file)?.findings ?? []
  expect(findings.filter(({ kind }) => kind === 'problem')).toEqual([])
  expect(findings.find(({ sentence }) => sentence.code === 'check.calculation_same')?.sentence.params).toEqual({ runs: 1 })
})

test('a signed figure of another calculation is a note that names the room and its filters', () => {
  // As an older program would have signed it: the same frozen rows with one filter's mean computed otherwise.
  const db = new Database(file)
  const frozen = db.prepare('SELECT run_id, calculation_version, body, sha256 FROM signed_result').get() as Record<string, unknown>
  const result = RunResult.parse(JSON.parse(String(frozen.body)))
  const filters = result.filters.map((filter) => (filter.tag === 'T-1' ? { ...filter, meanVelocityMps: 0.51 } : filter))
  const later = db.prepare('SELECT max(id) FROM audit_entry').pluck().get()
  db.prepare(
    'INSERT INTO signed_result (run_id, entry_id, calculation_version, body, sha256) VALUES (@run_id, @later, @calculation_version, @body, @sha256)',
  ).run({
    ...frozen,
    later,
    body: JSON.stringify({ ...result, filters }),
  })
  db.close()

  const reader = openForCheck(file)
  const notes = recalculateSigned(reader)
  reader.close()
  expect(notes).toHaveLength(1)
  expect(notes[0]?.kind).toBe('note')
  expect(notes[0]?.sentence).toMatchObject({
    code: 'check.calculation_changed',
    params: { filters: 'T-1', certification: 'Certification 2026' },
  })
})

test('a state of a visit that the file keeps and its readings do not bear out is found, and no script believes it', async () => {
  // Only a program that people sit at keeps results for its next opening.
  const screen = startHouse({ host: 'browser', access: { roots: () => [], allow: (asked) => asked } })
  await screen.client.files.open({ path: file })
  const { verdict } = await screen.client.evaluation.certification({ certificationId: site.certificationId })
  await screen.engine.close()
  const kept = problemsOf(checkFile(file))
  expect(kept).toEqual([])

  const db = new Database(file)
  const said = db
    .prepare('UPDATE result_cache SET body = replace(body, \'"verdict":"\' || ? || \'"\', \'"verdict":"inconclusive"\')')
    .run(verdict)
  db.close()
  expect(said.changes).toBe(1)
  expect(problemsOf(checkFile(file))).toEqual(['check.kept_state_differs'])
  const { out } = await facegrid(house.folder, 'evaluate', 'site.facegrid', '--json')
  expect(JSON.parse(out)).toMatchObject({ verdict })
})

test('a calculation number beside a signed result that is not its own is found', () => {
  const db = new Database(file)
  const triggers = db
    .prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = 'signed_result'")
    .pluck()
    .all()
  const made = triggers.map((name) => String(db.prepare('SELECT sql FROM sqlite_schema WHERE name = ?').pluck().get(name)))
  for (const name of triggers) db.exec(`DROP TRIGGER ${name}`)
  db.exec('UPDATE signed_result SET calculation_version = calculation_version + 1')
  for (const sql of made) db.exec(sql)
  db.close()
  expect(problemsOf(checkFile(file))).toEqual(['check.result_changed'])
})

function problemsOf(checked: ReturnType<typeof checkFile>): string[] {
  return (checked?.findings ?? []).filter(({ kind }) => kind === 'problem').map(({ sentence }) => sentence.code)
}
