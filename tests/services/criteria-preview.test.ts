import { writeFileSync } from 'node:fs'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { CriteriaSet } from '#core/model/criteria.ts'
import type { Entity } from '#core/model/entities.ts'
import { buildSite, entered, type House, record, type Site, startHouse, startRun } from './bench-site.ts'
import { facegrid } from './command-line.ts'

let house: House
let site: Site
let runId: string
beforeEach(async () => {
  house = startHouse()
  site = await buildSite(house)
  await stateAccuracy()
  runId = await startRun(house, site)
  const { locations } = await house.client.runs.get({ runId })
  for (const [index, { number }] of locations.entries()) await record(house, site, runId, number, index % 2 === 0 ? '0.40' : '0.44')
  const { run } = await house.client.runs.get({ runId })
  await house.client.runs.complete({ command: house.newCommand(site.personId), runId, revision: run.revision })
})
afterEach(() => house.engine.close())

async function all<K extends Entity['kind']>(kind: K): Promise<Extract<Entity, { kind: K }>[]> {
  const entities = await house.client.entities.list({ kinds: [kind], within: null })
  return entities.filter((entity): entity is Extract<Entity, { kind: K }> => entity.kind === kind)
}

/** The probe of the bench site says how wrong it may be: within 3 % or 0.015 m/s, whichever is greater. */
async function stateAccuracy(): Promise<void> {
  const [probe] = await all('instrument')
  if (!probe) throw new Error('the bench site has a probe')
  const senses = probe.body.senses.map((one) => ({
    ...one,
    accuracy: { form: 'greater_of' as const, percentOfReading: 3, absolute: entered(0.015, 'm/s') },
  }))
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'edit',
    scope: 'project',
    changes: [{ kind: 'instrument', id: probe.id, parentId: null, revision: probe.revision, body: { ...probe.body, senses } }],
  })
}

async function ownSet(): Promise<{ id: string; body: CriteriaSet }> {
  const [set] = await all('criteria_set')
  if (!set) throw new Error('the bench site has a criteria set')
  return set
}

function stricter(body: CriteriaSet): CriteriaSet {
  return {
    ...body,
    decisionRule: { kind: 'guarded', multiple: 1 },
    criteria: [
      ...body.criteria,
      {
        key: 'at_least_044',
        title: 'At least 0.44',
        quantity: 'face_velocity',
        scope: 'filter',
        form: { kind: 'at_least', limit: { from: 'value', value: entered(0.44, 'm/s') } },
        plane: 'any',
        basis: 'as_indicated',
        on: true,
        alert: null,
        source: 'a test',
      },
    ],
  }
}

describe('what a draft of criteria would change', () => {
  test('says which rooms and filters would read otherwise, and why, and writes nothing', async () => {
    const { id, body } = await ownSet()
    const [visit] = await all('certification')
    const before = await house.client.evaluation.certification({ certificationId: visit?.id ?? '' })
    const entries = (await house.client.audit.list({ about: null, before: null, limit: 500 })).entries.length
    const preview = await house.client.criteria.preview({ certificationId: visit?.id ?? '', criteriaSetId: id, body: stricter(body) })
    expect(preview).toMatchObject({ runsJudged: 1, runsAffected: 1 })
    const filters = preview.changed.filter(({ kind }) => kind === 'filter')
    expect(filters).toHaveLength(2)
    // mean 0.42, limit 0.44; U is about 0.04: neither below the limit by U nor above it
    expect(filters[0]?.criteria.find(({ key }) => key === 'at_least_044')).toMatchObject({ asJudged: null, underDraft: 'inconclusive' })
    expect(await house.client.evaluation.certification({ certificationId: visit?.id ?? '' })).toEqual(before)
    expect((await house.client.audit.list({ about: null, before: null, limit: 500 })).entries).toHaveLength(entries)
  })

  test('says nothing where the draft says the same, and that no run follows another set', async () => {
    const { id, body } = await ownSet()
    const [visit] = await all('certification')
    const same = await house.client.criteria.preview({ certificationId: visit?.id ?? '', criteriaSetId: id, body })
    expect(same).toMatchObject({ runsAffected: 1, changed: [], rooms: { changed: [] } })
    const other = await house.client.criteria.preview({
      certificationId: visit?.id ?? '',
      criteriaSetId: visit?.id ?? '',
      body: stricter(body),
    })
    expect(other).toMatchObject({ runsAffected: 0, changed: [] })
  })

  test('refuses a draft that breaks a rule of criteria sets', async () => {
    const { id, body } = await ownSet()
    const [first] = body.criteria
    const [visit] = await all('certification')
    if (!first) throw new Error('the set has criteria')
    const twice = { ...body, criteria: [first, first] }
    await expect(house.client.criteria.preview({ certificationId: visit?.id ?? '', criteriaSetId: id, body: twice })).rejects.toMatchObject(
      { code: 'invalid_input' },
    )
  })
})

describe('a budget through the contract', () => {
  test('has the U of the result', async () => {
    const result = await house.client.evaluation.run({ runId })
    const [filter] = result.filters
    const budget = await house.client.evaluation.budget({ runId, subjectId: filter?.terminalId ?? '', figure: 'flow' })
    expect(budget?.expanded).toBeCloseTo(filter?.uncertainty?.flow?.expanded ?? Number.NaN, 12)
    expect(budget?.subject).toBe(filter?.tag)
    expect(budget?.lines.map(({ source }) => source).sort()).toEqual(['accuracy', 'area', 'resolution', 'spatial'])
  })

  test('is null for a figure that the run does not have', async () => {
    expect(await house.client.evaluation.budget({ runId, subjectId: site.roomId, figure: 'offset' })).toBeNull()
  })
})

describe('a verdict that cannot tell', () => {
  test('is inconclusive from the filter to the visit, and ends the command line with 3', async () => {
    const { id, body } = await ownSet()
    const [set] = await all('criteria_set')
    const [visit] = await all('certification')
    await house.client.entities.change({
      command: house.newCommand(site.personId),
      name: 'edit',
      scope: 'project',
      changes: [{ kind: 'criteria_set', id, parentId: null, revision: set?.revision ?? null, body: stricter(body) }],
    })
    const asLeft = await startRun(house, site, { phase: 'as_left' })
    const { locations } = await house.client.runs.get({ runId: asLeft })
    // mean 0.46 m/s, 19.87 air changes against 20: U is 1.1 per hour and 0.04 m/s
    for (const [index, { number }] of locations.entries()) await record(house, site, asLeft, number, index % 2 === 0 ? '0.45' : '0.47')
    const { run } = await house.client.runs.get({ runId: asLeft })
    await house.client.runs.complete({ command: house.newCommand(site.personId), runId: asLeft, revision: run.revision })
    const result = await house.client.evaluation.run({ runId: asLeft })
    expect(result.filters.map(({ verdict }) => verdict)).toEqual(['inconclusive', 'inconclusive'])
    expect(result.roomCriteria.find(({ quantity }) => quantity === 'air_changes')).toMatchObject({ verdict: 'inconclusive' })
    expect(result.headline.code).toBe('headline.inconclusive')
    const state = await house.client.evaluation.certification({ certificationId: visit?.id ?? '' })
    expect(state.verdict).toBe('inconclusive')
    expect(state.rooms[0]?.verdict).toBe('inconclusive')
    await house.client.files.close()
    const { status, out } = await facegrid(house.folder, 'evaluate', path.join(house.folder, 'site.facegrid'))
    expect(status).toBe(3)
    expect(out).toContain('inconclusive: Inconclusive. At least 0.44')
  })
})

describe('on the command line', () => {
  test('budget prints the lines, and what it was not asked properly', async () => {
    await house.client.files.close()
    const file = path.join(house.folder, 'site.facegrid')
    const { status, out } = await facegrid(house.folder, 'budget', file, '--room', 'F-104')
    expect(status).toBe(0)
    expect(out).toMatch(/Air changes of F-104: uncertainty budget/)
    expect(out).toMatch(/Accuracy statement: 0\.37\s\/h/)
    expect((await facegrid(house.folder, 'budget', file)).error).toContain('--room')
    expect((await facegrid(house.folder, 'budget', file, '--room', 'F-104', '--figure', 'mood')).error).toContain('mean-velocity')
    const json = JSON.parse((await facegrid(house.folder, 'budget', file, '--room', 'F-104', '--figure', 'flow', '--json')).out)
    expect(json).toMatchObject([{ figure: 'flow', subject: 'F-104' }])
  })

  test('preview prints what would change', async () => {
    const { body } = await ownSet()
    await house.client.files.close()
    const file = path.join(house.folder, 'site.facegrid')
    writeFileSync(path.join(house.folder, 'set.json'), JSON.stringify(stricter(body)))
    const { status, out } = await facegrid(house.folder, 'preview', file, '--criteria', path.join(house.folder, 'set.json'))
    expect(status).toBe(0)
    expect(out).toContain('At least 0.44: not there -> inconclusive.')
    expect((await facegrid(house.folder, 'preview', file)).status).toBe(2)
  })
})
