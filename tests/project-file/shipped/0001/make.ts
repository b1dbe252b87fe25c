import { createHash } from 'node:crypto'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { createRouterClient } from '@orpc/server'
import type { Uuid } from '#core/model/values.ts'
import { createEngine } from '#electron/engine.ts'
import { facegrid } from '#tests/services/command-line.ts'
import { createDemoClock } from '../../../../demo-data/clock.ts'
import { createDesk, type Desk } from '../../../../demo-data/desk.ts'
import { figuresOf } from '../figures.ts'
import { certificate, entered, FACILITY, PROJECT, probe, QUALITY, room, TECHNICIAN, terminal, type Written } from './bodies.ts'
import { correct, type Made, onRun, run, type } from './measuring.ts'

/*
 * Made site.facegrid and expected.json of this folder, once, with the program that schema step 1 was shipped with. A SHIPPED FILE IS NEVER MADE AGAIN: this
 * script stays so that one can read what is in the file, and it refuses to write over one. What it says belongs to the program of that
 * day; where a later program no longer runs it, the file is still the one that has to open.
 */

async function place(made: Made) {
  const { desk, technician: by } = made
  const starting = await desk.api.criteria.starting()
  const [unidirectional, mixed] = starting
  if (!unidirectional || !mixed) throw new Error('two starting sets expected')
  const facility = await desk.create(by, 'facility', null, FACILITY)
  const oneWay = await desk.create(by, 'criteria_set', null, unidirectional)
  const mixedAir = await desk.create(by, 'criteria_set', null, mixed)
  const mixing = await desk.create(
    by,
    'room',
    facility,
    room('E-11', { name: 'Mixing', requiredAirChangesPerHour: 15, criteriaSetId: mixedAir }),
  )
  const filling = await desk.create(
    by,
    'room',
    facility,
    room('E-12', {
      name: 'Filling',
      shape: {
        kind: 'polygon',
        points: [
          { x: 6, y: 0 },
          { x: 10, y: 0 },
          { x: 10, y: 4 },
          { x: 8, y: 4 },
          { x: 8, y: 3 },
          { x: 6, y: 3 },
        ],
      },
      ceilingHeight: entered('2.7', 'm'),
      cleanlinessClass: 'ISO 7',
      requiredAirChangesPerHour: 30,
      criteriaSetId: mixedAir,
      hazards: ['sterile'],
    }),
  )
  const corridor = await desk.create(
    by,
    'room',
    facility,
    room('E-13', {
      name: 'Corridor',
      shape: { kind: 'rectangle', x: 0, y: 5, width: 8, depth: 1.5 },
      requiredAirChangesPerHour: 15,
      criteriaSetId: mixedAir,
    }),
  )
  const core = await desk.create(by, 'zone', filling, {
    name: 'Core',
    boundary: [
      { x: 8, y: 0.5 },
      { x: 10, y: 0.5 },
      { x: 10, y: 2 },
      { x: 8, y: 2 },
    ],
    cleanlinessClass: 'ISO 5',
    occupancyState: 'at_rest',
    designVelocity: entered('0.45', 'm/s'),
    criteriaSetId: oneWay,
    overrides: [{ key: 'zone_spread', form: { kind: 'spread_at_most', percent: 20 }, on: true, reason: 'Site rule 12.' }],
    note: '',
  })
  const first = await desk.create(by, 'terminal', mixing, terminal('E-11/01', 1.5, 2))
  await desk.create(by, 'terminal', mixing, terminal('E-11/02', 3.5, 2))
  await desk.create(by, 'terminal', mixing, terminal('E-11/R1', 0.4, 0.4, { kind: 'return_grille', face: 'grille', designFlow: null }))
  await desk.create(by, 'terminal', filling, terminal('E-12/01', 8.5, 1.2, { zoneId: core, designFlow: null }))
  await desk.create(by, 'terminal', filling, terminal('E-12/02', 9.5, 1.2, { zoneId: core, designFlow: null, kind: 'fan_filter_unit' }))
  await desk.create(
    by,
    'terminal',
    filling,
    terminal('E-12/03', 7, 2, { correctionFactor: { factor: 0.97, reason: 'Guard over the face.' } }),
  )
  await desk.create(by, 'terminal', filling, terminal('E-12/04', 7, 1, { closed: { reason: 'Blanked off in 2024.' } }))
  await desk.create(by, 'terminal', corridor, terminal('E-13/01', 2, 5.7, { grid: null }))
  await desk.create(by, 'terminal', corridor, terminal('E-13/02', 6, 5.7))
  const element = await desk.create(by, 'filter_element', first, {
    serialNumber: 'FE-100',
    model: '',
    installedOn: '2024-05-01',
    removedOn: null,
    note: '',
  })
  const door = await desk.create(by, 'door', facility, {
    name: 'E-11 to E-13',
    roomIds: [mixing, corridor],
    x: 2.5,
    y: 4.5,
    width: 0.9,
    rotationDegrees: 0,
    leastPressureDifference: entered('12.5', 'Pa'),
    note: '',
  })
  return { mixing, filling, corridor, core, first, element, door, mixedAir }
}

async function edit<K extends 'room' | 'criteria_set' | 'filter_element' | 'door'>(
  { desk, technician }: Made,
  kind: K,
  id: Uuid,
  change: (body: Written<K>) => Written<K> | null,
): Promise<void> {
  const { revision, body, parentId } = await desk.find(kind, id)
  // Kind and body are those of the entity that was found.
  const changed = { kind, id, parentId, revision, body: change(body as Written<K>) } as Parameters<Desk['change']>[3][number]
  await desk.change(technician, changed.body === null ? 'remove' : 'edit', id, [changed])
}

async function visit({ desk, quality }: Made, name: string, startsOn: string, endsOn: string, roomIds: Uuid[], previousId: Uuid | null) {
  const id = desk.clock.uuid()
  await desk.api.certifications.startFrom({
    command: desk.command(quality),
    id,
    previousId,
    name,
    startsOn,
    endsOn,
    purpose: 'periodic',
    why: '',
    roomIds,
  })
  return id
}

type Probes = readonly [Uuid, Uuid, Uuid]

async function first(made: Made, site: Awaited<ReturnType<typeof place>>, [probeA, probeB, probeC]: Probes): Promise<Uuid> {
  const { desk, technician, quality } = made
  desk.clock.moveTo('2025-03-03', '08:00')
  const id = await visit(made, 'Certification 2025', '2025-03-03', '2025-03-04', [site.mixing, site.filling, site.corridor], null)

  const mixing = await run(made, id, site.mixing)
  await type(made, mixing, probeA, ['0.46', '4.7', '0.45', '0.44', '0,43', '0.45', '0.44', '0.46'])
  await correct(made, mixing, probeA, 2, '0.47')
  await desk.api.runs.readCautions({ ...(await onRun(made, mixing, technician)), cautions: ['caution.height', 'caution.site_first'] })
  const conditions = { temperature: entered('21.5', 'degC'), relativeHumidity: entered('45', '%'), pressure: entered('96600', 'Pa') }
  await desk.api.runs.edit({ ...(await onRun(made, mixing, technician)), set: { conditions, note: 'Quiet day.' } })
  await desk.api.runs.complete(await onRun(made, mixing, technician))
  await correct(made, mixing, probeA, 5, '0.42', 'Read again from the field sheet.')
  await desk.api.runs.sign({ ...(await onRun(made, mixing, technician)), meaning: 'performed' })
  await desk.api.runs.sign({ ...(await onRun(made, mixing, quality)), meaning: 'approved' })
  const contentBase64 = Buffer.from('Field sheet of E-11, 3 March 2025.\n').toString('base64')
  await desk.api.attachments.add({
    command: desk.command(technician),
    id: desk.clock.uuid(),
    ownerId: mixing,
    name: 'field-sheet.txt',
    mediaType: 'text/plain',
    contentBase64,
  })

  // Two samples a point, one point given up, one value far below the range, one undone and done again.
  const filling = await run(made, id, site.filling, { samplesPerPoint: 2 })
  const { pins } = await desk.api.runs.get({ runId: filling })
  const values = [
    '0.44',
    '0.45',
    '0.46',
    '0.45',
    '0.43',
    '0.44',
    '0.47',
    '0.46',
    '0.41',
    '0.42',
    '0.40',
    '0.41',
    '0.43',
    '0.42',
    '0.44',
    '0.43',
    '0.50',
    '0.51',
    '0.02',
    '0.02',
  ]
  await type(made, filling, probeA, values)
  await desk.api.commands.undo({ command: desk.command(technician), scope: filling })
  await desk.api.commands.redo({ command: desk.command(technician), scope: filling })
  const third = pins.find((pin) => pin.kind === 'terminal' && pin.body.tag === 'E-12/03')
  const missing = [{ terminalIds: third ? [third.id] : [], cause: 'obstructed' as const, note: 'Scaffold.' }]
  await desk.api.runs.edit({ ...(await onRun(made, filling, technician)), set: { missing } })
  await desk.api.runs.complete(await onRun(made, filling, technician))

  // Probe B was past due on this day; its next certificate, with a numbered deviation, releases the readings. Probe C never had one.
  desk.clock.moveTo('2025-03-04', '08:00')
  const corridor = await run(made, id, site.corridor, { unit: 'ft/min', averagingTimeS: 5 })
  await type(made, corridor, probeB, ['88', '90', '91', '87'])
  await type(made, corridor, probeC, [null, null, null, null, '84', '86', '85', '83'])
  await desk.api.runs.complete(await onRun(made, corridor, technician))
  desk.clock.moveTo('2025-03-20', '10:00')
  const release = { number: 'DEV-9', reason: 'Drift below a tenth of the margin.' }
  await desk.create(
    technician,
    'calibration',
    probeB,
    certificate('CB-25', '2025-03-18', '2026-03-17', { foundInTolerance: false, release }),
  )
  return id
}

/** Between the visits: a lower ceiling, a changed filter, stricter criteria, a door that went. */
async function between(made: Made, site: Awaited<ReturnType<typeof place>>): Promise<void> {
  made.desk.clock.moveTo('2025-09-01', '09:00')
  await edit(made, 'room', site.mixing, (body) => ({ ...body, ceilingHeight: entered('2.8', 'm') }))
  await edit(made, 'criteria_set', site.mixedAir, (body) => ({ ...body, comparison: 'rounded_to_limit' }))
  await edit(made, 'filter_element', site.element, (body) => ({ ...body, removedOn: '2025-09-01' }))
  const next = { serialNumber: 'FE-200', model: '', installedOn: '2025-09-01', removedOn: null, note: '' }
  await made.desk.create(made.technician, 'filter_element', site.first, next)
  await edit(made, 'door', site.door, () => null)
}

async function second(made: Made, site: Awaited<ReturnType<typeof place>>, previousId: Uuid, probeA: Uuid): Promise<void> {
  const { desk, technician } = made
  desk.clock.moveTo('2026-03-02', '08:00')
  const id = await visit(made, 'Certification 2026', '2026-03-02', '2026-03-03', [site.mixing, site.filling, site.corridor], previousId)
  // Fails as found, passes as left.
  const found = await run(made, id, site.mixing)
  await type(made, found, probeA, ['0.44', '0.45', '0.44', '0.43', '0.29', '0.30', '0.31', '0.28'])
  await desk.api.runs.complete(await onRun(made, found, technician))
  const left = await run(made, id, site.mixing, { phase: 'as_left' })
  await type(made, left, probeA, ['0.46', '0.45', '0.46', '0.44', '0.44', '0.45', '0.43', '0.46'])
  await desk.api.runs.complete(await onRun(made, left, technician))
  // A run over the core alone, signed; and one that is open, with air that flows the wrong way at one point.
  const core = await run(made, id, site.filling, { zoneId: site.core })
  await type(made, core, probeA, ['0.44', '0.46', '0.45', '0.47', '0.36', '0.45', '0.44', '0.46'])
  await desk.api.runs.complete(await onRun(made, core, technician))
  await desk.api.runs.sign({ ...(await onRun(made, core, technician)), meaning: 'performed' })
  const corridor = await run(made, id, site.corridor)
  await type(made, corridor, probeA, ['0.44', '-0.05', null, '0.46'])
}

/** Plays the story into a new project file. */
async function make(target: string): Promise<void> {
  if (existsSync(target)) throw new Error(`${target} is shipped, and is never made again.`)
  // Whose machine made the file says nothing and stays out of it.
  Object.assign(os, { hostname: () => 'bench-1', userInfo: () => ({ username: 'shipping' }) })
  const settingsFolder = mkdtempSync(path.join(os.tmpdir(), 'facegrid-shipping-'))
  const clock = createDemoClock(1, PROJECT.timeZone, '2024-06-03T09:00')
  const access = { roots: () => [], allow: (wanted: string) => wanted }
  const engine = createEngine({ host: 'headless', version: '0.1.0', clock: clock.now, uuid: clock.uuid, settingsFolder, access })
  try {
    const desk = createDesk(createRouterClient(engine.router), clock)
    const { lastPersonId: technician } = await desk.api.files.create({ path: target, project: PROJECT, person: TECHNICIAN })
    if (technician === null) throw new Error('the new project does not say who made it')
    const made: Made = { desk, technician, quality: await desk.create(technician, 'person', null, QUALITY) }
    const site = await place(made)
    const probeA = await desk.create(technician, 'instrument', null, probe('Thermal probe A', 'TP-01'))
    await desk.create(technician, 'calibration', probeA, certificate('CA-24', '2024-05-02', '2026-05-01', { foundInTolerance: true }))
    const probeB = await desk.create(technician, 'instrument', null, probe('Thermal probe B', 'TP-02'))
    await desk.create(technician, 'calibration', probeB, certificate('CB-24', '2024-01-10', '2025-01-09'))
    const probeC = await desk.create(technician, 'instrument', null, probe('Thermal probe C', 'TP-03'))
    const previousId = await first(made, site, [probeA, probeB, probeC])
    await between(made, site)
    await second(made, site, previousId, probeA)
    await desk.api.files.close()
  } finally {
    await engine.close()
    rmSync(settingsFolder, { recursive: true, force: true })
  }
}

const [target] = process.argv.slice(2)
if (target === undefined) throw new Error('Usage: node make.ts OUT.facegrid')
const file = path.resolve(target)
await make(file)
const { out } = await facegrid(path.dirname(file), 'evaluate', file, '--all', '--json')
const sha256 = createHash('sha256').update(readFileSync(file)).digest('hex')
const expected = { sha256, step: 1, figures: figuresOf(JSON.parse(out)) }
writeFileSync(path.join(path.dirname(file), 'expected.json'), JSON.stringify(expected))
