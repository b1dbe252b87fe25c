import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { basename, dirname, join, resolve } from 'node:path'
import { createRouterClient } from '@orpc/server'
import { createEngine, type FileAccess } from '#electron/engine.ts'
import { createAir } from './air.ts'
import { createDemoClock, type DemoClock } from './clock.ts'
import { type Api, createDesk } from './desk.ts'
import { farewellSteps, hirePeople, instrumentSteps, issueCriteria, personOf, replacementSteps } from './office.ts'
import { placeSite } from './place.ts'
import { source } from './source.ts'
import { visitSteps } from './visits.ts'

/** The day the invented project was opened, and the person who did. */
const OPENED = '2023-05-22'
const FOUNDER = 'brandsdal'

/**
 * Makes the demo's project file at this path: an invented site of three areas with four yearly certifications, built through the same
 * engine and commands as any other project, with a clock that is set. The source is the readable data beside this file.
 */
export async function buildDemo(path: string): Promise<void> {
  const file = resolve(path)
  const settingsFolder = await mkdtemp(join(tmpdir(), 'facegrid-demo-'))
  const clock = createDemoClock(source.air.seed, source.site.project.timeZone, `${OPENED}T08:30`)
  const engine = createEngine({
    host: 'headless',
    version: 'demo',
    clock: clock.now,
    uuid: clock.uuid,
    settingsFolder,
    access: accessTo(dirname(file)),
  })
  try {
    await play(createRouterClient(engine.router), clock, file)
  } finally {
    await engine.close()
    await rm(settingsFolder, { recursive: true, force: true })
  }
}

/** The builder works in one folder alone. */
function accessTo(folder: string): FileAccess {
  return {
    roots: () => [{ name: basename(folder), path: folder }],
    allow: (wanted) => resolve(wanted),
  }
}

async function play(api: Api, clock: DemoClock, path: string): Promise<void> {
  const desk = createDesk(api, clock)
  const founder = source.peopleAndInstruments.people[FOUNDER]
  if (!founder) throw new Error('The demo source does not give its founder.')
  const { lastPersonId } = await api.files.create({ path, project: source.site.project, person: founder })
  if (lastPersonId === null) throw new Error('The new project does not say who made it.')
  const people = await hirePeople(desk, FOUNDER, lastPersonId)
  const certifier = personOf(people, FOUNDER)
  const criteria = await issueCriteria(desk, certifier)
  const placed = placeSite(clock.uuid, criteria.ids)
  for (const { scope, changes } of placed.commands) await desk.change(certifier, 'create', scope, changes)
  const filters = [...placed.rooms.values()].flatMap((room) => room.filters)
  const filterId = (tag: string): string => {
    const filter = filters.find((candidate) => candidate.tag === tag)
    if (!filter) throw new Error(`The demo source speaks of a filter ${tag} that the site does not have.`)
    return filter.id
  }
  const instruments = new Map<string, string>()
  const grilles = [...placed.rooms.values()].flatMap((room) => room.grilles)
  const air = createAir(source.air, [...filters, ...grilles], source.visits.installedOn)
  const steps = [
    ...instrumentSteps(desk, certifier, OPENED, instruments),
    ...criteria.later,
    ...replacementSteps(desk, certifier, filterId),
    ...farewellSteps(desk, certifier, people, instruments, '2025-11-14'),
    ...visitSteps(desk, { rooms: placed.rooms, people, instruments, air }),
  ].sort((a, b) => `${a.on}T${a.at}`.localeCompare(`${b.on}T${b.at}`))
  for (const step of steps) {
    clock.moveTo(step.on, step.at)
    await step.does()
  }
  await api.files.close()
}

if (import.meta.main) {
  const [out] = process.argv.slice(2)
  if (out === undefined) {
    process.stderr.write('Usage: node demo-data/build.ts OUT.facegrid\n')
    process.exitCode = 2
  } else await buildDemo(out)
}
