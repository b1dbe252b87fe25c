import { EventEmitter } from 'node:events'
import { pathToFileURL } from 'node:url'
import { type MessagePort, parentPort, workerData } from 'node:worker_threads'

/** Runs the engine's entry in a worker thread with the `process.parentPort` that Electron's utility process has. */
const port = new EventEmitter()
// As in Electron, messages wait until somebody listens.
port.once('newListener', () =>
  queueMicrotask(() => parentPort?.on('message', (message: { data: unknown; ports: MessagePort[] }) => port.emit('message', message))),
)
Object.defineProperty(process, 'parentPort', { value: port })
await import(pathToFileURL((workerData as { file: string }).file).href)
