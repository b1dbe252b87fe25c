import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { setImmediate } from 'node:timers/promises'
import { MessageChannel } from 'node:worker_threads'
import { createORPCClient } from '@orpc/client'
import { RPCLink } from '@orpc/client/message-port'
import type { ContractRouterClient } from '@orpc/contract'
import { RPCHandler } from '@orpc/server/message-port'
import { v7 } from 'uuid'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Contract } from '#core/api/contract.ts'
import { serveContract } from '#electron/contract-server.ts'
import { createEngine, type Engine } from '#electron/engine.ts'
import { createContractLink } from '#renderer/app/contract-link.ts'

type Client = ContractRouterClient<Contract>
type Opened = { readonly api: Client; readonly drop: () => void }

let folder: string
let engine: Engine
const ends: (() => void)[] = []

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'channel-'))
  engine = createEngine({
    host: 'headless',
    version: 'test',
    clock: () => Date.now(),
    uuid: () => v7(),
    settingsFolder: path.join(folder, 'settings'),
    access: { roots: () => [{ name: 'test', path: folder }], allow: (requested) => requested },
  })
})

afterEach(async () => {
  for (const end of ends.splice(0)) end()
  await engine.close()
  rmSync(folder, { recursive: true })
})

function ports() {
  const { port1, port2 } = new MessageChannel()
  ends.push(() => port1.close())
  return { port1, port2 }
}

function serveOurs(port: MessageChannel['port2']): void {
  const channel = serveContract(engine.router)((message) => port.postMessage(message))
  port.on('message', (message) => void channel.receive(message))
  port.on('close', channel.close)
}

function linkOurs(port: MessageChannel['port1']): Opened {
  const { link, receive, close } = createContractLink((message) => port.postMessage(message))
  port.on('message', (message) => void receive(message))
  return { api: createORPCClient(link), drop: () => close(new Error('dropped')) }
}

/** oRPC's own link and handler are the outside check of the messages: each of ours has to understand the other's. */
const pairs: [string, () => Opened][] = [
  [
    'our link, our server',
    () => {
      const { port1, port2 } = ports()
      serveOurs(port2)
      return linkOurs(port1)
    },
  ],
  [
    "our link, oRPC's handler",
    () => {
      const { port1, port2 } = ports()
      new RPCHandler(engine.router).upgrade(port2)
      port2.start()
      return linkOurs(port1)
    },
  ],
  [
    "oRPC's link, our server",
    () => {
      const { port1, port2 } = ports()
      serveOurs(port2)
      const api: Client = createORPCClient(new RPCLink({ port: port1 }))
      port1.start()
      return { api, drop: () => port1.close() }
    },
  ],
]

const project = {
  name: 'Channel site',
  organisation: '',
  timeZone: 'UTC',
  display: { velocity: 'm/s', flow: 'm3/h', length: 'm', pressure: 'Pa', temperature: 'degC' },
  note: '',
} as const
const person = { name: 'Channel person', role: 'certifier', organisation: '', active: true } as const
const create = (api: Client) => api.files.create({ path: path.join(folder, 'site.facegrid'), project, person })

describe.each(pairs)('%s', (_name, open) => {
  it('answers calls under way at once, each with its own answer', async () => {
    const { api } = open()
    const opened = await create(api)
    const [people, projects, state] = await Promise.all([
      api.entities.list({ kinds: ['person'], within: null }),
      api.entities.list({ kinds: ['project'], within: null }),
      api.files.state(),
    ])
    expect(people.map(({ id }) => id)).toEqual([opened.lastPersonId])
    expect(projects.map(({ kind }) => kind)).toEqual(['project'])
    expect(state.open?.path).toBe(path.join(folder, 'site.facegrid'))
  })

  it('carries a refusal as the named kind that it is, also of an input that breaks its schema', async () => {
    const { api } = open()
    await expect(api.files.open({ path: path.join(folder, 'none.facegrid') })).rejects.toMatchObject({ code: 'not_found' })
    // A path that is no text: what a page of another version might send.
    await expect(api.files.open({ path: 7 } as unknown as { path: string })).rejects.toMatchObject({
      code: 'invalid_input',
      data: { field: 'path' },
    })
  })

  it('streams what changes until the reader has enough', async () => {
    const { api } = open()
    const stream = await api.changes.subscribe()
    await create(api)
    const first = await stream.next()
    expect(first.done).toBe(false)
    await stream.return?.(undefined)
    expect((await stream.next()).done).toBe(true)
    expect(await api.files.state()).toBeTruthy()
  })

  it('ends a stream whose signal fires while its reader waits', async () => {
    const { api } = open()
    const stop = new AbortController()
    const stream = await api.changes.subscribe(undefined, { signal: stop.signal })
    const next = stream.next()
    await setImmediate()
    const reason = new Error('enough')
    stop.abort(reason)
    await expect(next).rejects.toBe(reason)
    expect(await api.files.state()).toBeTruthy()
  })

  it('fails what waits when the channel is gone', async () => {
    const { api, drop } = open()
    const stream = await api.changes.subscribe()
    const next = stream.next()
    // Watched before the channel goes, so that neither failure is seen as unhandled.
    const failed = expect(next).rejects.toThrow()
    const call = expect(api.files.state()).rejects.toThrow()
    drop()
    await failed
    await call
  })
})
