import { PORT_MESSAGE } from '#core/api/desktop-bridge.ts'
import type { Channel, OpenChannel } from './connection.ts'
import { createContractLink } from './contract-link.ts'
import { desktopBridge } from './desktop-bridge.ts'

/** The browser host: a socket on the address that served the page; the token travels in its cookie. */
const openSocket: OpenChannel = () => {
  const address = new URL('/rpc', window.location.href)
  address.protocol = address.protocol === 'https:' ? 'wss:' : 'ws:'
  const socket = new WebSocket(address)
  socket.binaryType = 'arraybuffer'
  const closed = new AbortController()
  const { link, receive, close } = createContractLink((message) => socket.send(message))
  socket.addEventListener('message', ({ data }) => void receive(data))
  return new Promise<Channel>((resolve, reject) => {
    socket.addEventListener('open', () => resolve({ link, closed: closed.signal }), { once: true })
    socket.addEventListener('close', () => {
      const reason = new Error('connection closed')
      closed.abort(reason)
      close(reason)
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
    const { link, receive, close } = createContractLink((message) => port.postMessage(message))
    port.addEventListener('message', ({ data }) => void receive(data))
    port.addEventListener('close', () => {
      const reason = new Error('port closed')
      closed.abort(reason)
      close(reason)
    })
    port.start()
    return { link, closed: closed.signal }
  } finally {
    window.removeEventListener('message', received)
  }
}

function isPortMessage(data: unknown): boolean {
  return typeof data === 'object' && data !== null && 'facegrid' in data && data.facegrid === PORT_MESSAGE
}

export const openChannel: OpenChannel = () => (desktopBridge() ? openPort() : openSocket())
