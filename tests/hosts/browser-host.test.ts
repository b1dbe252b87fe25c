import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { request } from 'node:http'
import { connect } from 'node:net'
import os from 'node:os'
import path from 'node:path'
import { setTimeout } from 'node:timers/promises'
import { createORPCClient } from '@orpc/client'
import { RPCLink } from '@orpc/client/websocket'
import type { ContractRouterClient } from '@orpc/contract'
import { v7 } from 'uuid'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import WebSocket from 'ws'
import type { Contract } from '#core/api/contract.ts'
import { createEngine, type Engine } from '#electron/engine.ts'
import { FolderAccess } from '#electron/folder-access.ts'
import { type LoopbackServer, startLoopbackServer } from '#electron/loopback-server.ts'

const PAGE = new Map([['/', { body: Buffer.from('<!doctype html>'), mediaType: 'text/html; charset=utf-8' }]])

describe('browser host', () => {
  const home = mkdtempSync(path.join(os.tmpdir(), 'facegrid-loopback-'))
  const allowed = path.join(home, 'allowed')
  let engine: Engine
  let server: LoopbackServer
  beforeAll(async () => {
    mkdirSync(allowed)
    engine = createEngine({
      host: 'browser',
      version: 'test',
      clock: () => Date.now(),
      uuid: () => v7(),
      settingsFolder: path.join(home, 'settings'),
      access: new FolderAccess([allowed]),
    })
    server = await startLoopbackServer(engine, PAGE, 0)
  })
  afterAll(async () => {
    await server.close()
    await engine.close()
    rmSync(home, { recursive: true, force: true })
  })

  const get = (target: string, headers: Record<string, string> = {}) =>
    new Promise<{ status: number; headers: Record<string, string | string[] | undefined>; body: string }>((resolve, reject) => {
      const url = new URL(server.origin)
      const sent = request({ host: url.hostname, port: url.port, path: target, headers: { host: url.host, ...headers } }, (response) => {
        let body = ''
        response.on('data', (chunk: Buffer) => {
          body += chunk.toString()
        })
        response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers, body }))
      })
      sent.on('error', reject)
      sent.end()
    })
  let kept: string | null = null
  const cookie = async () => {
    kept ??= String((await get(`/?token=${server.token}`)).headers['set-cookie']).split(';')[0] ?? ''
    return kept
  }
  const channelRefused = (options: WebSocket.ClientOptions) =>
    new Promise<boolean>((resolve) => {
      const channel = new WebSocket(`${server.origin.replace('http', 'ws')}/rpc`, options)
      channel.once('open', () => {
        channel.close()
        resolve(false)
      })
      channel.once('error', () => resolve(true))
    })

  it('listens on the loopback address only', () => {
    expect(new URL(server.origin).hostname).toBe('127.0.0.1')
  })
  it('serves nothing without the token of this start', async () => {
    expect((await get('/')).status).toBe(403)
    expect((await get('/?token=wrong')).status).toBe(403)
    expect((await get(`/?token=${server.token.slice(0, -1)}`)).status).toBe(403)
  })
  it('turns the token into a cookie that scripts cannot read, and then serves the page under a strict policy', async () => {
    const first = await get(`/?token=${server.token}`)
    expect(first.status).toBe(303)
    expect(String(first.headers['set-cookie'])).toMatch(/HttpOnly; SameSite=Strict/)
    const page = await get('/', { cookie: await cookie() })
    expect(page.status).toBe(200)
    expect(String(page.headers['content-security-policy'])).toContain("script-src 'self'")
    expect(String(page.headers['content-security-policy'])).not.toContain('unsafe')
  })
  it('lets in once by an address; the next one is another, and who is in already stays in', async () => {
    const { token } = server
    const first = await get(`/?token=${token}`)
    expect(first.status).toBe(303)
    expect(server.token).not.toBe(token)
    const again = await get(`/?token=${token}`)
    expect(again.status).toBe(403)
    expect(again.headers['set-cookie']).toBeUndefined()
    expect(again.body).toContain('newest one')
    const own = { cookie: await cookie() }
    expect(own.cookie).not.toContain(token)
    expect(await get(`/?token=${token}`, own)).toMatchObject({ status: 303, headers: { location: '/' } })
    expect((await get('/', own)).status).toBe(200)
    expect((await get(`/?token=${server.token}`)).status, 'the next one works').toBe(303)
  })
  it('refuses a foreign Host, which a rebinding page would send', async () => {
    expect((await get(`/?token=${server.token}`, { host: 'elsewhere.example' })).status).toBe(421)
  })
  it('has no other files, whatever the path looks like', async () => {
    const own = { cookie: await cookie() }
    for (const target of [
      '/../package.json',
      '/%2e%2e/package.json',
      '/..%2f..%2fetc/passwd',
      '//etc/passwd',
      '/index.html\0.js'.replace('\0', '%00'),
    ]) {
      expect((await get(target, own)).status, target).toBe(404)
    }
  })
  it('opens a channel only to its own page with the cookie', async () => {
    const own = await cookie()
    expect(await channelRefused({ origin: 'http://elsewhere.example', headers: { cookie: own } })).toBe(true)
    expect(await channelRefused({ origin: server.origin })).toBe(true)
    expect(await channelRefused({ headers: { cookie: own } })).toBe(true)
    expect(await channelRefused({ origin: server.origin, headers: { cookie: own, host: 'elsewhere.example' } })).toBe(true)
    expect(await channelRefused({ origin: server.origin, headers: { cookie: own } })).toBe(false)
  })

  describe('what strangers and broken pages send', () => {
    /** Writes to the host as no browser would; resolves when the connection is gone. Anything thrown meanwhile fails the test run. */
    const raw = async (parts: readonly (string | Buffer)[], end: 'wait' | 'reset') => {
      const { hostname, port } = new URL(server.origin)
      const socket = connect(Number(port), hostname)
      let answer = ''
      socket.on('data', (chunk) => {
        answer += chunk.toString('latin1')
      })
      const gone = new Promise<void>((resolve) => {
        socket.on('error', () => resolve())
        socket.on('close', () => resolve())
      })
      for (const part of parts) {
        socket.write(part)
        await setTimeout(20)
      }
      if (end === 'reset') socket.resetAndDestroy()
      await gone
      return answer
    }
    const upgrade = (headers: string) =>
      `GET /rpc HTTP/1.1\r\nHost: ${new URL(server.origin).host}\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n` +
      `Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\nSec-WebSocket-Version: 13\r\n${headers}\r\n`
    const ours = async () => `Origin: ${server.origin}\r\nCookie: ${await cookie()}\r\n`
    const stillThere = async () => expect((await get('/', { cookie: await cookie() })).status).toBe(200)

    it.each(['//', '///', '//:0', '//[', '/?token=%', '//?token'])('answers a request for %s, and goes on', async (target) => {
      expect((await get(target)).status).toBeGreaterThanOrEqual(400)
      await stillThere()
    })
    it('takes no target that is not a path', async () => {
      const { host } = new URL(server.origin)
      const answer = await raw([`GET http://elsewhere.example/ HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`], 'wait')
      expect(answer).toMatch(/^HTTP\/1\.1 400 /)
    })
    it('survives a refused channel whose sender breaks off', async () => {
      for (let turn = 0; turn < 10; turn += 1) await raw([upgrade(''), 'x'.repeat(100_000)], 'reset')
      await stillThere()
    })
    it('survives a channel that breaks off', async () => {
      expect(await raw([upgrade(await ours())], 'reset')).toMatch(/^HTTP\/1\.1 101 /)
      await stillThere()
    })
    it('closes a channel that sends what is no frame, and goes on', async () => {
      // RFC 6455, 5.2: reserved bits must be 0, and a control frame is never longer than 125 bytes.
      const answer = await raw([upgrade(await ours()), Buffer.from([0xff, 0xff, 0xff, 0xff])], 'wait')
      expect(answer).toMatch(/^HTTP\/1\.1 101 /)
      await stillThere()
    })
    it('closes a channel whose message is over the limit, and goes on', async () => {
      // RFC 6455, 5.2: a final, masked, binary frame that announces 2 to the power of 32 bytes; 7.4.1: 1009 is "too big".
      const frame = Buffer.from([0x82, 0xff, 0, 0, 0, 1, 0, 0, 0, 0, 1, 2, 3, 4])
      const answer = await raw([upgrade(await ours()), frame], 'wait')
      expect(Buffer.from(answer, 'latin1').subarray(-2).readUInt16BE()).toBe(1009)
      await stillThere()
    })
  })

  describe('folders', () => {
    const withClient = async <T>(use: (client: ContractRouterClient<Contract>) => Promise<T>): Promise<T> => {
      const channel = new WebSocket(`${server.origin.replace('http', 'ws')}/rpc`, {
        origin: server.origin,
        headers: { cookie: await cookie() },
      })
      await new Promise((resolve) => channel.once('open', resolve))
      const client: ContractRouterClient<Contract> = createORPCClient(
        // ws speaks the interface of a browser's WebSocket that the link uses.
        new RPCLink({ websocket: channel as unknown as globalThis.WebSocket }),
      )
      try {
        return await use(client)
      } finally {
        channel.close()
      }
    }
    const refusals = [
      () => '/etc/passwd',
      () => path.join(allowed, '..', 'outside.facegrid'),
      () => `${allowed}-sibling/x.facegrid`,
      () => path.join(allowed, 'link-out', 'x.facegrid'),
      () => path.join(allowed, 'dangling.facegrid'),
      () => 'relative.facegrid',
      () => `${allowed}/x.facegrid\0.png`,
    ]
    it('opens and creates nothing outside the allowed folders', async () => {
      mkdirSync(`${allowed}-sibling`)
      writeFileSync(path.join(home, 'outside.facegrid'), '')
      symlinkSync(home, path.join(allowed, 'link-out'))
      symlinkSync(path.join(home, 'not-there.facegrid'), path.join(allowed, 'dangling.facegrid'))
      await withClient(async (client) => {
        for (const make of refusals) {
          const target = make()
          await expect(client.files.open({ path: target }), JSON.stringify(target)).rejects.toMatchObject({
            code: expect.stringMatching(/^(refused|not_found)$/),
          })
          await expect(client.files.saveCopy({ path: target }), JSON.stringify(target)).rejects.toBeDefined()
        }
        await expect(client.files.browse({ path: home })).rejects.toMatchObject({ code: 'refused' })
        await expect(client.files.makeFolder({ parent: allowed, name: '../escape' })).rejects.toBeDefined()
        expect((await client.files.browse({ path: null })).path).toBeDefined()
      })
    })
  })
})
