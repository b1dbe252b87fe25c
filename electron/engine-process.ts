import { createRouterClient } from '@orpc/server'
import type { ParentPort } from 'electron'
import { serveContract } from './contract-server.ts'
import { EngineProcessMessage } from './desktop/engine-messages.ts'
import { createHostEngine } from './engine-start.ts'
import { FolderAccess } from './folder-access.ts'

/** The engine in the desktop host's utility process. It has no folders of its own: only what the user picked, now or earlier, is granted. */
async function serve(parent: ParentPort, settingsFolder: string): Promise<void> {
  const access = new FolderAccess([])
  const engine = createHostEngine({ host: 'desktop', access, settingsFolder })
  const openChannel = serveContract(engine.router)
  const { recent } = await createRouterClient(engine.router).files.state()
  for (const file of recent) access.grant(file.path)
  await engine.reopen()
  parent.on('message', (event) => {
    const parsed = EngineProcessMessage.safeParse(event.data)
    if (!parsed.success) return
    const [port] = event.ports
    if (parsed.data.kind === 'grant') access.grant(parsed.data.path)
    else if (parsed.data.kind === 'stop') void engine.close().then(() => process.exit(0))
    else if (port) {
      const channel = openChannel((message) => port.postMessage(message))
      port.on('message', ({ data }) => void channel.receive(data))
      port.on('close', channel.close)
      port.start()
    }
  })
}

const settings = process.argv[2]
if (!settings) throw new Error('The engine process needs the settings folder as its argument.')
await serve(process.parentPort, settings)
