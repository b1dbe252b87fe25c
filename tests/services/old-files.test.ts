import { createHash } from 'node:crypto'
import { copyFileSync, readFileSync } from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { AUDIT_FORMAT_VERSION } from '#core/model/audit.ts'
import { STARTING_UNCERTAINTY } from '#core/model/criteria.ts'
import type { Entity, EntityKind } from '#core/model/entities.ts'
import { FullExchange } from '#core/model/exchange.ts'
import { fillBody } from '#core/model/filled-bodies.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import { RunResult } from '#core/model/results.ts'
import { readBody } from '#core/model/stored-bodies.ts'
import { canonicalJson } from '#electron/project-file/canonical.ts'
import { asKept } from '#electron/services/visit-cache.ts'
import { buildSite, type House, startHouse, startRun } from './bench-site.ts'
import { facegrid } from './command-line.ts'

/*
 * The project file that schema step 1 was shipped with: its bodies lack every field that came later, its trail is of format 1, its
 * signed results are of calculation 1.
 */
const SHIPPED = path.join(import.meta.dirname, '../project-file/shipped/0001/site.facegrid')
const EXAMPLE = path.join(import.meta.dirname, '../reference/worked-example.exchange.json')
const Told = z.object({ findings: z.array(z.object({ kind: z.string(), code: z.string(), params: z.record(z.string(), z.unknown()) })) })

let house: House
const at = (name: string) => path.join(house.folder, name)
beforeEach(() => {
  house = startHouse()
})
afterEach(() => house.engine.close())

async function openShipped(): Promise<void> {
  copyFileSync(SHIPPED, at('site.facegrid'))
  await house.client.files.open({ path: at('site.facegrid') })
}

/** Rows as they are stored, whatever the program makes of them. */
function stored<Row>(file: string, sql: string): Row[] {
  const db = new Database(file, { readonly: true })
  try {
    return db.prepare<[], Row>(sql).all()
  } finally {
    db.close()
  }
}

const storedBodies = (file: string, kind: EntityKind) =>
  stored<{ body: string }>(
    file,
    `SELECT r.body FROM entity_revision r JOIN entity e ON e.id = r.entity_id WHERE e.kind = '${kind}' AND r.body IS NOT NULL
     ORDER BY r.entity_id, r.number`,
  ).map(({ body }) => body)

/** What `check` says of the file once it is closed. */
async function findings(file = 'site.facegrid') {
  await house.client.files.close()
  const { out } = await facegrid(house.folder, 'check', file, '--json')
  return Told.parse(JSON.parse(out)).findings
}
const problemsIn = (found: Awaited<ReturnType<typeof findings>>) => found.filter(({ kind }) => kind === 'problem')

async function one<K extends EntityKind>(kind: K, fits: (entity: Entity<K>) => boolean): Promise<Entity<K>> {
  const found = (await house.client.entities.list({ kinds: [kind], within: null })).find(
    // Only this kind was asked for.
    (entity) => fits(entity as Entity<K>),
  )
  if (!found) throw new Error(`no such ${kind}`)
  return found as Entity<K>
}

describe('bodies that were stored without the fields that came later', () => {
  const KINDS = Object.keys(LATER_FIELDS) as (keyof typeof LATER_FIELDS)[]

  test.each(KINDS)('%s reads with the defaults of its schema, and what is stored stays as it was', async (kind) => {
    const bodies = storedBodies(SHIPPED, kind)
    expect(bodies.length).toBeGreaterThan(0)
    for (const body of bodies) {
      for (const field of Object.keys(LATER_FIELDS[kind])) expect(JSON.parse(body)).not.toHaveProperty(field)
      const read = readBody(kind, JSON.parse(body))
      expect(read).toMatchObject(JSON.parse(body))
      expect(read).toMatchObject(LATER_FIELDS[kind])
      expect(fillBody(kind, JSON.parse(body))).toEqual(read)
    }
    await openShipped()
    const entities = await house.client.entities.list({ kinds: [kind], within: null, removed: true })
    for (const { body } of entities) expect(body).toMatchObject(LATER_FIELDS[kind])
    await house.client.files.close()
    expect(storedBodies(at('site.facegrid'), kind)).toEqual(bodies)
  })

  test('a flow element that states no uncertainty takes the one of the criteria set, and a set without one its start', () => {
    const [terminal = '{}'] = storedBodies(SHIPPED, 'terminal')
    const metre = { si: 0.1, typed: '0.1', unit: 'm' }
    const elements = [
      { kind: 'discharge', coefficient: 0.6, boreDiameter: metre, ductDiameter: { ...metre, si: 0.2, typed: '0.2' }, expansibility: 1 },
      { kind: 'stated', flowAtOnePascal: { si: 0.01, typed: '0.01', unit: 'm3/s' }, statedDensityKgpm3: 1.2 },
    ]
    for (const flowElement of elements) {
      const body = { ...JSON.parse(terminal), flowElement }
      expect(fillBody('terminal', structuredClone(body))).toMatchObject({ flowElement: { ...flowElement, uncertaintyPercent: null } })
      expect(fillBody('terminal', structuredClone(body))).toEqual(readBody('terminal', body))
    }
    const [set = '{}'] = storedBodies(SHIPPED, 'criteria_set')
    const { flowElementPercent, ...uncertainty } = STARTING_UNCERTAINTY
    const filled = fillBody('criteria_set', { ...JSON.parse(set), uncertainty: { ...uncertainty } })
    expect(filled.uncertainty.flowElementPercent).toBe(flowElementPercent)
  })

  test('a body that is none of its kind comes back as it is, and never stops the reading of the rest', () => {
    expect(readBody('room', { number: 'E-11' })).toEqual({ number: 'E-11' })
  })

  test('an edit adds a revision and is undone; the old revision keeps its bytes, and the trail holds all of them', async () => {
    await openShipped()
    const room = await one('room', ({ body }) => body.number === 'E-13')
    const { kind, id, parentId, revision, body } = room
    const [person] = await house.client.entities.list({ kinds: ['person'], within: null })
    const personId = person?.id ?? ''
    const before = storedBodies(at('site.facegrid'), 'room')
    const changes = [{ kind, id, parentId, revision, body: { ...body, name: 'Airlock' } }]
    await house.client.entities.change({ command: house.newCommand(personId), name: 'edit', scope: id, changes })
    const [line] = (await house.client.audit.list({ about: id, before: null, limit: 1 })).entries
    // What the new fields read as is no part of what the person changed.
    const [change] = line?.changes ?? []
    if (change?.what !== 'entity') throw new Error('no change of an entity')
    expect(change.after).toEqual({ ...body, name: 'Airlock' })
    expect(change.before).toEqual(body)
    await house.client.commands.undo({ command: house.newCommand(personId), scope: id })
    expect((await one('room', (other) => other.id === id)).body).toEqual(body)
    expect(storedBodies(at('site.facegrid'), 'room')).toEqual(expect.arrayContaining(before))
    expect(problemsIn(await findings())).toEqual([])
  })

  test('a change that the earlier program made is undone and redone by this one', async () => {
    await openShipped()
    const room = await one('room', ({ body }) => body.number === 'E-11')
    const [lowered] = (await house.client.audit.list({ about: room.id, before: null, limit: 20 })).entries.filter(
      ({ command, changes: [first] }) => command === 'edit' && first?.what === 'entity' && first.id === room.id,
    )
    if (!lowered) throw new Error('no edit of the room')
    const turn = { command: house.newCommand(lowered.personId), scope: lowered.scope }
    expect(await house.client.commands.undo(turn)).toEqual({ undone: 'edit', commandId: lowered.commandId })
    expect((await one('room', ({ id }) => id === room.id)).body).toEqual({ ...room.body, ceilingHeight: { si: 3, typed: '3', unit: 'm' } })
    await house.client.commands.redo({ ...turn, command: house.newCommand(lowered.personId) })
    expect((await one('room', ({ id }) => id === room.id)).body).toEqual(room.body)
    expect(problemsIn(await findings())).toEqual([])
  })

  test('a short exchange form that knows none of them is accepted', async () => {
    const written = z.object({ entities: z.array(z.object({ kind: z.string(), body: z.record(z.string(), z.unknown()) })) })
    const { entities } = written.parse(JSON.parse(readFileSync(EXAMPLE, 'utf8')))
    for (const kind of ['room', 'terminal', 'instrument', 'criteria_set'] as const) {
      const bodies = entities.filter((entity) => entity.kind === kind).map(({ body }) => body)
      expect(bodies.length).toBeGreaterThan(0)
      for (const body of bodies) for (const field of Object.keys(LATER_FIELDS[kind])) expect(body).not.toHaveProperty(field)
    }
    copyFileSync(EXAMPLE, at('example.json'))
    await house.client.files.importExchange({ exchangePath: at('example.json'), path: at('example.facegrid') })
    const read = await house.client.entities.list({ kinds: ['room'], within: null })
    for (const { body } of read) expect(body).toMatchObject(LATER_FIELDS.room)
    expect(problemsIn(await findings('example.facegrid'))).toEqual([])
  })
})

test('results that were signed with calculation 1 read with the figures of that day', async () => {
  const rows = stored<{ body: string; calculation_version: number }>(SHIPPED, 'SELECT body, calculation_version FROM signed_result')
  expect(rows.map(({ calculation_version }) => calculation_version)).toEqual([1, 1, 1])
  for (const { body } of rows) {
    expect(JSON.parse(body)).not.toHaveProperty('air')
    const read = RunResult.parse(JSON.parse(body))
    expect(read).toMatchObject(JSON.parse(body))
    expect(read).toMatchObject({ air: null, doors: [] })
  }
  await openShipped()
  const runs = await house.client.entities.list({ kinds: ['run'], within: null })
  const [signed] = runs.filter(({ kind, body }) => kind === 'run' && 'state' in body && body.state === 'signed')
  expect(await house.client.evaluation.run({ runId: signed?.id ?? '' })).toMatchObject({ calculationVersion: 1, air: null, doors: [] })
})

test('what a cache kept without a later field is worked out again, not filled up', () => {
  const Kept = z.strictObject({ verdict: z.string(), notes: z.array(z.string()).default([]) })
  expect(asKept(Kept, { verdict: 'pass', notes: [] })).toEqual({ verdict: 'pass', notes: [] })
  expect(asKept(Kept, { verdict: 'pass' })).toBeNull()
  expect(asKept(Kept, { verdict: 'pass', notes: [], more: 1 })).toBeNull()
})

describe('the trail of format 1', () => {
  test('is found sound, and `check` says that the points of its layouts can be held by number alone', async () => {
    await openShipped()
    const found = await findings()
    expect(problemsIn(found)).toEqual([])
    const [{ points } = { points: 0 }] = stored<{ points: number }>(SHIPPED, 'SELECT count(*) AS points FROM location')
    expect(found).toContainEqual(expect.objectContaining({ kind: 'note', code: 'check.points_by_number', params: { points } }))
    expect(found).toContainEqual(expect.objectContaining({ kind: 'ok', code: 'check.points_ok', params: { points, runs: 7 } }))
    expect(found.map(({ code }) => code)).toContain('check.pins_ok')
  })

  test('export, import and export again give the same bytes; entries stay of the format they were written in', async () => {
    await openShipped()
    const person = await one('person', ({ body }) => body.role === 'technician')
    const room = await one('room', ({ body }) => body.number === 'E-13')
    const { kind, id, parentId, revision, body } = room
    await house.client.entities.change({
      command: house.newCommand(person.id),
      name: 'edit',
      scope: id,
      changes: [{ kind, id, parentId, revision, body: { ...body, name: 'Airlock' } }],
    })
    await house.client.files.exportExchange({ path: at('one.json') })
    await house.client.files.importExchange({ exchangePath: at('one.json'), path: at('again.facegrid') })
    await house.client.files.exportExchange({ path: at('two.json') })
    const [oneText, twoText] = [readFileSync(at('one.json'), 'utf8'), readFileSync(at('two.json'), 'utf8')]
    const { trail, segments } = FullExchange.parse(JSON.parse(twoText))
    const own = segments.at(-1)?.id ?? ''
    expect(trail.filter(({ body: entry }) => entry.segmentId === own)).toHaveLength(1)
    const lines = (text: string) => text.split('\n').map((line) => line.replace(/,$/, ''))
    const withoutOwn = lines(twoText).filter((line) => !/^\{"(id|hash)"/.test(line) || !line.includes(own))
    expect(withoutOwn).toEqual(lines(oneText))
    const formats = (file: string) =>
      stored<{ format: number; entries: number }>(
        file,
        `SELECT body ->> '$.formatVersion' AS format, count(*) AS entries FROM audit_entry GROUP BY 1 ORDER BY 1`,
      )
    const [old] = formats(SHIPPED)
    expect(formats(at('again.facegrid'))).toEqual([old, { format: AUDIT_FORMAT_VERSION, entries: 2 }])
    expect(problemsIn(await findings('again.facegrid'))).toEqual([])
  })

  test('a grid that was changed by an entry of format 1 is undone and redone, and the new entries say where the points lie', async () => {
    const site = await buildSite(house)
    const runId = await startRun(house, site)
    const before = await house.client.runs.get({ runId })
    const grid = { runId, revision: before.run.revision, terminalIds: [site.terminalIds[0] ?? ''], rows: 3, columns: 3 }
    const after = await house.client.runs.setGrid({ command: house.newCommand(site.personId), ...grid })
    await house.client.files.close()
    rewriteLastAsFormat1(at('site.facegrid'))
    await house.client.files.open({ path: at('site.facegrid') })
    await house.client.commands.undo({ command: house.newCommand(site.personId), scope: runId })
    expect((await house.client.runs.get({ runId })).locations).toEqual(before.locations)
    await house.client.commands.redo({ command: house.newCommand(site.personId), scope: runId })
    expect((await house.client.runs.get({ runId })).locations).toEqual(after.locations)
    const [redone] = (await house.client.audit.list({ about: runId, before: null, limit: 1 })).entries
    const layout = redone?.changes.find(({ what }) => what === 'layout')
    expect(layout).toMatchObject({ before: before.locations.slice(0, 4), after: after.locations.slice(0, 9) })
    expect(problemsIn(await findings())).toEqual([])
  })
})

/** Puts the newest entry as the program of schema step 1 would have written it, with the hash it would have had. */
function rewriteLastAsFormat1(file: string): void {
  const db = new Database(file)
  const triggers = db.prepare<[], { name: string; sql: string }>(`SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'`).all()
  for (const { name } of triggers) db.exec(`DROP TRIGGER ${name}`)
  const [last, previous] = db
    .prepare<[], { id: number; body: string; hash: Buffer }>('SELECT id, body, hash FROM audit_entry ORDER BY id DESC LIMIT 2')
    .all()
  const entry = JSON.parse(last?.body ?? '')
  entry.formatVersion = 1
  for (const change of entry.changes) {
    if (change.what !== 'layout') continue
    for (const side of ['before', 'after']) change[side] = change[side].map(({ number }: { number: number }) => number)
  }
  const body = canonicalJson(entry)
  const hash = createHash('sha256')
    .update(previous?.hash ?? '')
    .update(body)
    .digest()
  db.prepare('UPDATE audit_entry SET body = ?, hash = ? WHERE id = ?').run(body, hash, last?.id)
  for (const { sql } of triggers) db.exec(sql)
  db.close()
}
