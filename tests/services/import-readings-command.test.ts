import { writeFileSync } from 'node:fs'
import path from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { buildSite, type House, startHouse, startRun } from './bench-site.ts'
import { facegrid } from './command-line.ts'
import { BY_TAG, EIGHT, HEAD, writeText } from './import-site.ts'

let house: House
afterEach(() => house.engine.close())

test('the command line looks at every row, imports all of them or none, and notices the same file', async () => {
  house = startHouse()
  const site = await buildSite(house)
  const runId = await startRun(house, site)
  await house.client.entities.change({
    command: house.newCommand(site.personId),
    name: 'create',
    scope: 'project',
    changes: [{ kind: 'import_mapping', id: '01930000-0000-7000-8000-0000000000aa', parentId: null, revision: null, body: BY_TAG }],
  })
  await house.client.files.close()
  const good = writeText(house, 'good.csv', `${HEAD}\n${EIGHT}\n`)
  const bad = writeText(house, 'bad.csv', `${HEAD}\n${EIGHT}\nT-3;1;0,45;02.03.2026 08:00:00\n`)
  writeFileSync(path.join(house.folder, 'mapping.json'), JSON.stringify(BY_TAG))
  const run = (...more: string[]) =>
    facegrid(house.folder, 'import-readings', 'site.facegrid', ...more, '--run', runId, '--instrument', 'TP-0001')

  const refused = await run(bad, '--mapping', 'Logger of the bench')
  expect(refused).toMatchObject({ status: 1, error: '' })
  expect(refused.out).toContain('Row 10: No open run here measures a terminal with the tag “T-3”.')
  const looked = await run(good, '--mapping', 'mapping.json', '--dry-run', '--json')
  expect(looked.status).toBe(0)
  expect(JSON.parse(looked.out)).toMatchObject({ imported: false, readings: 8, problemRows: 0 })
  expect(await run(good, '--mapping', 'Logger of the bench')).toMatchObject({ status: 0, out: 'Imported 8 readings from good.csv.\n' })
  const again = await run(good, '--mapping', 'Logger of the bench')
  expect(again.status).toBe(1)
  expect(again.out).toContain('has a reading in the run already')
  const unknown = await run(good, '--mapping', 'Another')
  expect(unknown).toMatchObject({ status: 2, out: '' })
  expect(unknown.error).toContain('The project has no mapping called "Another"')
})
