import { spawn } from 'node:child_process'
import { once } from 'node:events'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'
import { temporaryFolder } from '#tests/project-file/site.ts'

const CLI = fileURLToPath(new URL('../../electron/cli.ts', import.meta.url))

it('whoever stops reading the output of evaluate is told the verdict by the status all the same', async () => {
  const folder = temporaryFolder()
  const file = path.join(folder.path, 'new.facegrid')
  const run = async (reads: boolean, ...args: string[]) => {
    const child = spawn(process.execPath, [CLI, ...args], { stdio: ['ignore', 'pipe', 'inherit'] })
    if (reads) child.stdout.resume()
    else child.stdout.destroy()
    const [status] = await once(child, 'exit')
    return status
  }
  expect(await run(true, 'new', file, '--name', 'Made', '--person', 'Ines', '--time-zone', 'UTC')).toBe(0)
  // README: 3 where nothing fails and something is not tested; 0 would say that everything passes.
  expect(await run(true, 'evaluate', file)).toBe(3)
  expect(await run(false, 'evaluate', file)).toBe(3)
  expect(await run(false, 'evaluate', file, '--json')).toBe(3)
  folder.remove()
})
