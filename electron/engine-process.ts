import { RPCHandler } from '@orpc/server/message-port'
import type { ParentPort } from 'electron'
import { EngineProcessMessage } from './desktop/engine-messages.ts'
import { createHostEngine } from './engine-start.ts'
import { FolderAccess } from './folder-access.ts'

/** The engine in the desktop host's utility process. It has no folders of its own: only what the user picked is granted. */
function serve(parent: ParentPort, settingsFolder: string): void {
  const access = new FolderAccess([])
  const engine = createHostEngine({ host: 'desktop', access, settingsFolder })
  const handler = new RPCHandler(engine.router)
  parent.on('message', (event) => {
    const parsed = EngineProcessMessage.safeParse(event.data)
    if (!parsed.success) return
    const [port] = event.ports
    if (parsed.data.kind === 'grant') access.grant(parsed.data.path)
    else if (parsed.data.kind === 'stop') void engine.close().then(() => process.exit(0))
    else if (port) {
      handler.upgrade(port)
      port.start()
    }
  })
}

const settings = process.argv[2]
if (!settings) throw new Error('The engine process needs the settings folder as its argument.')
serve(process.parentPort, settings)
