import path from 'node:path'
import { v7 } from 'uuid'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { EntityChange } from '#core/api/entities.ts'
import { sentenceOf } from '#tests/project-file/failure.ts'
import { buildSite, entered, FACILITY, type House, PERSON, PROJECT, ROOM, type Site, startHouse, terminal } from './bench-site.ts'
import { failureOf } from './failure.ts'

let house: House
let site: Site
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
})
afterEach(() => house.engine.close())

function change(changes: EntityChange[], command = house.newCommand(site.personId)) {
  return house.client.entities.change({ command, name: 'edit', scope: 'project', changes })
}

async function room() {
  const [found] = await house.client.entities.list({ kinds: ['room'], within: null })
  if (found?.kind !== 'room') throw new Error('no room')
  return found
}

test('a change made on a revision that is not the newest is a conflict and changes nothing', async () => {
  const before = await room()
  const edited = { kind: 'room', id: before.id, parentId: before.parentId, revision: 1, body: { ...before.body, name: 'A' } } as const
  await change([edited])
  const failure = await failureOf(change([{ ...edited, body: { ...before.body, name: 'B' } }]))
  expect(failure.kind).toBe('conflict')
  expect((await room()).body.name).toBe('A')
})

test('a repeated command is answered and not done twice', async () => {
  const command = house.newCommand(site.personId)
  const before = await room()
  const edit: EntityChange = { kind: 'room', id: before.id, parentId: before.parentId, revision: 1, body: { ...before.body, name: 'A' } }
  const first = await change([edit], command)
  expect(await change([edit], command)).toEqual(first)
  const { entries } = await house.client.audit.list({ about: before.id, before: null, limit: 10 })
  expect(entries.filter((entry) => entry.commandId === command.id)).toHaveLength(1)
  const other = house.newCommand(site.personId)
  await change([{ ...edit, revision: 2 }], other)
  const reused = failureOf(house.client.readings.void({ command: other, runId: v7(), readingIds: [`${v7()}:1`] }))
  expect((await reused).kind).toBe('conflict')
})

test('one entry holds what was before and after, who, and why', async () => {
  const before = await room()
  const body = { ...before.body, ceilingHeight: entered(2.8, 'm') }
  await change(
    [{ kind: 'room', id: before.id, parentId: before.parentId, revision: 1, body }],
    house.newCommand(site.personId, 'new ceiling'),
  )
  const [entry] = (await house.client.audit.list({ about: before.id, before: null, limit: 1 })).entries
  expect(entry).toMatchObject({ command: 'edit', personId: site.personId, reason: 'new ceiling', zone: 'Europe/Vienna' })
  expect(entry?.changes).toEqual([
    {
      what: 'entity',
      kind: 'room',
      id: before.id,
      parentId: before.parentId,
      revisionBefore: 1,
      revisionAfter: 2,
      before: before.body,
      after: body,
    },
  ])
})

test('parents of another kind, missing references and broken rules are refused at their field', async () => {
  const facility = (await room()).parentId
  const wrongParent = failureOf(change([{ kind: 'terminal', id: v7(), parentId: facility, revision: null, body: terminal('T-9', 1) }]))
  expect(await wrongParent).toMatchObject({ kind: 'not_found', field: 'changes.0.parentId' })
  const noParent = failureOf(change([{ kind: 'room', id: v7(), parentId: null, revision: null, body: ROOM }]))
  expect(await noParent).toMatchObject({ kind: 'invalid_input', field: 'changes.0.parentId' })
  const unknownSet = failureOf(
    change([{ kind: 'room', id: v7(), parentId: facility, revision: null, body: { ...ROOM, criteriaSetId: v7() } }]),
  )
  expect(await unknownSet).toMatchObject({ kind: 'invalid_input', field: 'changes.0.body.criteriaSetId' })
  const noHeight = failureOf(
    change([{ kind: 'room', id: v7(), parentId: facility, revision: null, body: { ...ROOM, ceilingHeight: entered(0, 'm') } }]),
  )
  expect(await noHeight).toMatchObject({ kind: 'invalid_input', field: 'changes.0.body.ceilingHeight' })
})

test('input that does not have its form becomes invalid_input with its field, in words of ours', async () => {
  // A body that TypeScript would not let through, as another program could send it.
  const malformed = { kind: 'facility', id: v7(), parentId: null, revision: null, body: { ...FACILITY, northDegrees: 400 } } as const
  const failure = await failureOf(change([malformed]))
  expect(failure).toMatchObject({ kind: 'invalid_input', field: 'changes.0.body.northDegrees' })
  expect(sentenceOf(failure.sentence)).toBe('This input does not fit: northDegrees: a number below 360 is wanted here.')
})

test('a command by someone who is not of this project is refused', async () => {
  const failure = await failureOf(
    change([{ kind: 'facility', id: v7(), parentId: null, revision: null, body: FACILITY }], house.newCommand(v7())),
  )
  expect(failure).toMatchObject({ kind: 'not_found', field: 'command.personId' })
})

test('removing a room takes its filters along, and one undo brings all of them back', async () => {
  const before = await room()
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'remove',
    scope: 'project',
    changes: [{ kind: 'room', id: before.id, parentId: before.parentId, revision: before.revision, body: null }],
  })
  const kinds = ['room', 'terminal'] as const
  expect(await house.client.entities.list({ kinds: [...kinds], within: null })).toEqual([])
  await house.client.commands.undo({ command: house.newCommand(site.personId), scope: 'project' })
  const back = await house.client.entities.list({ kinds: [...kinds], within: null })
  expect(back.map(({ id }) => id)).toEqual([before.id, ...site.terminalIds])
  expect(back[0]?.body).toEqual(before.body)
})

test('a criteria set that a room uses is not removed', async () => {
  const [set] = await house.client.entities.list({ kinds: ['criteria_set'], within: null })
  if (set?.kind !== 'criteria_set') throw new Error('no set')
  const failure = await failureOf(change([{ kind: 'criteria_set', id: set.id, parentId: null, revision: set.revision, body: null }]))
  expect(failure).toMatchObject({ kind: 'refused', sentence: { code: 'error.still_used' } })
})

test('a file opened for reading only refuses every change', async () => {
  await house.client.files.close()
  const opened = await house.client.files.open({ path: path.join(house.folder, 'site.facegrid'), readOnly: true })
  expect(opened.readOnly).toBe(true)
  const failure = await failureOf(change([{ kind: 'person', id: v7(), parentId: null, revision: null, body: PERSON }]))
  expect(failure.kind).toBe('read_only')
})

test('without a project every question is answered with no_project', async () => {
  await house.client.files.close()
  expect((await failureOf(house.client.entities.list({ kinds: ['room'], within: null }))).kind).toBe('no_project')
  expect((await house.client.files.state()).open).toBeNull()
})

test('an unknown time zone is refused before a file is made', async () => {
  const target = path.join(house.folder, 'second.facegrid')
  const refused = house.client.files.create({ path: target, project: { ...PROJECT, timeZone: 'Nowhere/Town' }, person: PERSON })
  expect(await failureOf(refused)).toMatchObject({ kind: 'invalid_input', field: 'project.timeZone' })
  expect((await house.client.files.browse({ path: house.folder })).entries.map(({ name }) => name)).not.toContain('second.facegrid')
})
