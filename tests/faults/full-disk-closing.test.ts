import path from 'node:path'
import { createRouterClient } from '@orpc/server'
import { v7 } from 'uuid'
import { expect, it } from 'vitest'
import { ChangeStream } from '#electron/services/changes.ts'
import { Workspace } from '#electron/services/files.ts'
import { createRouter } from '#electron/services/router.ts'
import { SettingsFile } from '#electron/services/settings.ts'
import { visitState } from '#electron/services/visits.ts'
import { buildSite, type Client, startHouse } from '#tests/services/bench-site.ts'

it('a disk that is full while a project is closed loses nothing, and neither closing nor opening another one fails', async () => {
  const house = startHouse()
  const site = await buildSite(house)
  await house.client.files.close()
  await buildSite(house, 'second.facegrid')
  await house.client.files.close()
  await house.engine.close()

  const logged: unknown[] = []
  const log = (error: unknown) => logged.push(error)
  const changes = new ChangeStream()
  const access = { roots: () => [], allow: (requested: string) => requested }
  const settingsFolder = path.join(house.folder, 'settings')
  const options = { host: 'browser' as const, version: 't', clock: () => Date.now(), uuid: () => v7(), settingsFolder, access }
  const workspace = new Workspace(options, new SettingsFile(settingsFolder), (event) => changes.publish(event), log)
  const client: Client = createRouterClient(createRouter(workspace, changes, log).router)

  const [first, second] = [path.join(house.folder, 'site.facegrid'), path.join(house.folder, 'second.facegrid')]
  /** Leaves the roll-up of a visit waiting to be written, and no room in the file for it (SQLite says what it says of a full disk). */
  const fill = (certificationId: string) => {
    const { session } = workspace
    const { db } = session.file
    const visit = session.find('certification', certificationId)
    const state = visitState(session, visit)
    session.cache.flush()
    // As large as that of a site of hundreds of rooms, so that it does not fit into what is left of a page.
    const large = { ...state, rooms: Array.from({ length: 200 }, () => state.rooms).flat() }
    session.cache.visit(visit.rowId, 'a later revision', () => large)
    db.pragma(`max_page_count = ${Number(db.pragma('page_count', { simple: true }))}`)
    expect(() => session.cache.flush()).toThrow(/full/)
  }
  await client.files.open({ path: first })
  fill(site.certificationId)
  await client.files.close()
  expect((await client.files.state()).open).toBeNull()
  expect(logged.map(String)).toContainEqual(expect.stringMatching(/full/))

  await client.files.open({ path: first })
  fill(site.certificationId)
  expect((await client.files.open({ path: second })).path).toBe(second)
  expect((await client.files.open({ path: first })).path, 'neither is thought to be open still').toBe(first)
  expect(await client.entities.list({ kinds: ['terminal'], within: null })).toHaveLength(2)
  await workspace.end()
})
