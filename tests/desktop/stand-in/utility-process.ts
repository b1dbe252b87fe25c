import { EventEmitter } from 'node:events'
import { pathToFileURL } from 'node:url'
import { type MessagePort, parentPort, workerData } from 'node:worker_threads'
import type { MessagePortMain } from 'electron'

/** A real port with the ways of Electron's own: a message comes as an event that holds it, and waits for start(). */
class StandInPort extends EventEmitter implements Pick<MessagePortMain, 'postMessage' | 'start' | 'close'> {
  readonly #port: MessagePort
  constructor(port: MessagePort) {
    super()
    this.#port = port
    port.once('close', () => this.emit('close'))
  }
  postMessage = (message: unknown) => this.#port.postMessage(message)
  start = () => void this.#port.on('message', (data: unknown) => this.emit('message', { data, ports: [] }))
  close = () => this.#port.close()
}

/** Runs the engine's entry in a worker thread with the `process.parentPort` that Electron's utility process has. */
const port = new EventEmitter()
// As in Electron, messages wait until somebody listens.
port.once('newListener', () =>
  queueMicrotask(() =>
    parentPort?.on('message', ({ data, ports }: { data: unknown; ports: MessagePort[] }) =>
      port.emit('message', { data, ports: ports.map((own) => new StandInPort(own)) }),
    ),
  ),
)
Object.defineProperty(process, 'parentPort', { value: port })
await import(pathToFileURL((workerData as { file: string }).file).href)
