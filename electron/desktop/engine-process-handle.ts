import { MessageChannelMain, type MessagePortMain, type UtilityProcess, utilityProcess } from 'electron'
import type { EngineProcessMessage } from './engine-messages.ts'

/** The engine's own process, owned by the main process: started once, given a port per page, stopped in order. */
export class EngineProcess {
  readonly #child: UtilityProcess
  #exited = false

  constructor(file: string, settingsFolder: string) {
    this.#child = utilityProcess.fork(file, [settingsFolder], { serviceName: 'Facegrid engine', stdio: 'inherit' })
    this.#child.once('exit', () => {
      this.#exited = true
    })
  }

  /** A fresh channel to the engine; the far end goes to the page. */
  connect(): MessagePortMain {
    const { port1, port2 } = new MessageChannelMain()
    this.#send({ kind: 'page' }, [port1])
    return port2
  }

  /** Lets the engine use a path that the user picked in a system dialog. */
  grant(file: string): void {
    this.#send({ kind: 'grant', path: file })
  }

  stop(): Promise<void> {
    if (this.#exited) return Promise.resolve()
    return new Promise((resolve) => {
      this.#child.once('exit', () => resolve())
      this.#send({ kind: 'stop' })
    })
  }

  #send(message: EngineProcessMessage, ports: MessagePortMain[] = []): void {
    if (!this.#exited) this.#child.postMessage(message, ports)
  }
}
