import { randomBytes, timingSafeEqual } from 'node:crypto'
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import type { Duplex } from 'node:stream'
import { type RawData, WebSocketServer } from 'ws'
import { serveContract } from './contract-server.ts'
import type { Engine } from './engine.ts'
import { CONTENT_SECURITY_POLICY, type PageFile } from './page-files.ts'

export type LoopbackServer = {
  /** the address that works now, and only once: whoever opens it is let in, and there is a new one for another window or browser */
  readonly address: string
  readonly origin: string
  readonly token: string
  readonly close: () => Promise<void>
}

/**
 * Serves the page and the contract on 127.0.0.1 only. Whoever wants in needs the token of the newest address. It is exchanged for the
 * key of this start, an HttpOnly cookie, and works no second time: a browser is handed its address on its command line, where everybody
 * on the computer can read it. The Host header must be ours, which stops rebinding, and the Origin of a channel must be ours, which
 * stops other pages in the same browser.
 */
export async function startLoopbackServer(
  engine: Engine,
  page: ReadonlyMap<string, PageFile>,
  port: number,
  addressUsed: (next: string) => void = () => undefined,
): Promise<LoopbackServer> {
  const key = newSecret()
  let token = newSecret()
  const server = createServer()
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen({ host: '127.0.0.1', port, exclusive: true }, resolve)
  })
  // A listening TCP server's address is never a string or null.
  const actualPort = (server.address() as AddressInfo).port
  const host = `127.0.0.1:${actualPort}`
  const origin = `http://${host}`
  const cookieName = `facegrid-${actualPort}`

  const hasKey = (request: IncomingMessage): boolean => sameSecret(cookieValue(request.headers.cookie, cookieName), key)
  const address = () => `${origin}/?token=${token}`

  const answer = (request: IncomingMessage, response: ServerResponse) => {
    setSecurityHeaders(response)
    if (request.headers.host !== host) return refuse(response, 421, 'This address is not served here.')
    if (request.method !== 'GET' && request.method !== 'HEAD') return refuse(response, 405, 'Only reading is possible here.')
    const url = addressedHere(request, origin)
    if (!url) return refuse(response, 400, 'This address cannot be read.')
    const offered = url.searchParams.get('token')
    if (offered !== null) {
      if (!hasKey(request)) {
        if (request.method !== 'GET') return refuse(response, 405, 'Open this address in a browser.')
        if (!sameSecret(offered, token))
          return refuse(response, 403, 'This address was used already. Open the newest one that Facegrid printed.')
        token = newSecret()
        response.setHeader('Set-Cookie', `${cookieName}=${key}; HttpOnly; SameSite=Strict; Path=/`)
        addressUsed(address())
      }
      response.writeHead(303, { Location: '/' }).end()
      return
    }
    if (!hasKey(request)) return refuse(response, 403, 'Open the newest address that Facegrid printed.')
    const file = page.get(url.pathname)
    if (!file) return refuse(response, 404, 'There is no such file.')
    response.writeHead(200, {
      'Content-Type': file.mediaType,
      'Content-Length': file.body.length,
      'Cache-Control': url.pathname.startsWith('/assets/') ? 'private, max-age=31536000, immutable' : 'no-store',
    })
    response.end(request.method === 'HEAD' ? undefined : file.body)
  }
  server.on('request', (request, response) => {
    try {
      answer(request, response)
    } catch (error) {
      // Anybody on this computer can send a request, and none may end the program that holds a project open.
      console.error(error)
      if (!response.headersSent) response.statusCode = 500
      response.end()
    }
  })
  // Whoever is listening already stays so when one connection cannot be taken in.
  server.on('error', (error) => console.error(error))

  const channels = new WebSocketServer({ noServer: true, maxPayload: 64 * 1024 * 1024 })
  const openChannel = serveContract(engine.router)
  server.on('upgrade', (request: IncomingMessage, socket: Duplex, head: Buffer) => {
    // From here on nobody else listens for a connection that breaks, and an unheard error would end the program.
    socket.on('error', () => socket.destroy())
    const allowed =
      request.headers.host === host && request.headers.origin === origin && hasKey(request) && request.url?.split('?')[0] === '/rpc'
    if (!allowed) {
      socket.end('HTTP/1.1 403 Forbidden\r\nConnection: close\r\nContent-Length: 0\r\n\r\n')
      return
    }
    channels.handleUpgrade(request, socket, head, (socketChannel) => {
      const channel = openChannel((message) => socketChannel.send(message))
      // Whole messages: a text one is JSON, a binary one carries a file behind it.
      socketChannel.on('message', (data, isBinary) => void channel.receive(isBinary ? bytesOf(data) : String(data)))
      socketChannel.on('close', channel.close)
      // A frame that cannot be read, or one over the limit: the channel closes itself after this, and the page opens a new one.
      socketChannel.on('error', (error) => console.error(error.message))
    })
  })

  return {
    get address() {
      return address()
    },
    origin,
    get token() {
      return token
    },
    close: () =>
      new Promise((resolve) => {
        for (const channel of channels.clients) channel.terminate()
        channels.close()
        server.close(() => resolve())
        server.closeAllConnections()
      }),
  }
}

const newSecret = () => randomBytes(32).toString('base64url')

/** What a request asks for here, or null: a target need not begin with a slash, nor be an address at all. */
function addressedHere(request: IncomingMessage, origin: string): URL | null {
  return request.url?.startsWith('/') ? URL.parse(`${origin}${request.url}`) : null
}

function bytesOf(data: RawData): Uint8Array {
  if (Array.isArray(data)) return Buffer.concat(data)
  return new Uint8Array(data)
}

function setSecurityHeaders(response: ServerResponse): void {
  response.setHeader('Content-Security-Policy', CONTENT_SECURITY_POLICY)
  response.setHeader('X-Content-Type-Options', 'nosniff')
  response.setHeader('Referrer-Policy', 'no-referrer')
  response.setHeader('Cross-Origin-Opener-Policy', 'same-origin')
  response.setHeader('Cross-Origin-Resource-Policy', 'same-origin')
  response.setHeader('Permissions-Policy', 'camera=(), microphone=(), geolocation=(), usb=(), serial=()')
}

function refuse(response: ServerResponse, status: number, sentence: string): void {
  response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8', 'Cache-Control': 'no-store' }).end(`${sentence}\n`)
}

function cookieValue(header: string | undefined, name: string): string | null {
  for (const part of (header ?? '').split(';')) {
    const [key, value] = part.trim().split('=', 2)
    if (key === name) return value ?? null
  }
  return null
}

function sameSecret(offered: string | null, secret: string): boolean {
  if (offered === null) return false
  const left = Buffer.from(offered)
  const right = Buffer.from(secret)
  return left.length === right.length && timingSafeEqual(left, right)
}
