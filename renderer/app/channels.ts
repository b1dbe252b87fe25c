import { RPCLink as PortLink } from '@orpc/client/message-port'
import { RPCLink as SocketLink } from '@orpc/client/websocket'
import { PORT_MESSAGE } from '#core/api/desktop-bridge.ts'
import type { Channel, OpenChannel } from './connection.ts'
import { desktopBridge } from './desktop-bridge.ts'

/** The browser host: a socket on the address that served the page; the token travels in its cookie. */
const openSocket: OpenChannel = () => {
  const address = new URL('/rpc', window.location.href)
  address.protocol = address.protocol === 'https:' ? 'wss:' : 'ws:'
  const socket = new WebSocket(address)
  const closed = new AbortController()
  return new Promise<Channel>((resolve, reject) => {
    socket.addEventListener('open', () => resolve({ link: new SocketLink({ websocket: socket }), closed: closed.signal }), { once: true })
    socket.addEventListener('close', () => {
      closed.abort(new Error('connection closed'))
      reject(new Error('connection refused'))
    })
  })
}

/** The desktop host: a port that the preload posts into the page. */
const openPort: OpenChannel = async () => {
  const bridge = desktopBridge()
  if (!bridge) throw new Error('not in the desktop host')
  const { promise, resolve } = Promise.withResolvers<MessagePort>()
  const received = (event: MessageEvent<unknown>) => {
    const [port] = event.ports
    if (event.source === window && isPortMessage(event.data) && port) resolve(port)
  }
  window.addEventListener('message', received)
  try {
    await bridge.connect()
    const port = await promise
    const closed = new AbortController()
    port.addEventListener('close', () => closed.abort(new Error('port closed')))
    port.start()
    return { link: new PortLink({ port }), closed: closed.signal }
  } finally {
    window.removeEventListener('message', received)
  }
}

function isPortMessage(data: unknown): boolean {
  return typeof data === 'object' && data !== null && 'facegrid' in data && data.facegrid === PORT_MESSAGE
}

export const openChannel: OpenChannel = () => (desktopBridge() ? openPort() : openSocket())
