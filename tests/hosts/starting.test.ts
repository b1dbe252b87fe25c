import { execFile } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'
import { temporaryFolder } from '#tests/project-file/site.ts'

const HOST = fileURLToPath(new URL('../../electron/browser-host.ts', import.meta.url))

it('a start that cannot be says what is wrong with it and what to do, and ends with 2', async () => {
  const folder = temporaryFolder()
  const file = path.join(folder.path, 'file.txt')
  writeFileSync(file, '')
  const start = (args: readonly string[], home = folder.path) =>
    new Promise<string>((resolve) => {
      const env = { ...process.env, HOME: home, USERPROFILE: home }
      execFile(process.execPath, [HOST, '--no-open', ...args], { env, timeout: 15_000 }, (error, _out, told) => {
        resolve(`${error?.code ?? 'started'}: ${told.trim()}`)
      })
    })
  const settings = ['--settings', path.join(folder.path, 'settings')]
  const cases: [args: string[], told: RegExp, home?: string][] = [
    [['--port', 'abc', ...settings], /^2: abc is no port\. Give a whole number/],
    [['--port', '70000', ...settings], /^2: 70000 is no port\. Give a whole number/],
    [['--folder', path.join(folder.path, 'none'), ...settings], /^2: There is no folder .*none\. Make it first/],
    [['--folder', file, ...settings], /^2: .*file\.txt is a file\. Name the folder that it lies in/],
    [['--settings', file], /^2: Settings cannot be kept in .*file\.txt .*name another folder with --settings/],
    [settings, /^2: The folder .*Facegrid for project files cannot be made .*--no-home/, file],
    [['--fly'], /^2: .*--fly.*The option --help lists/s],
  ]
  const said = await Promise.all(cases.map(([args, , home]) => start(args, home)))
  for (const [index, [args, told]] of cases.entries()) {
    expect(said[index], args.join(' ')).toMatch(told)
    expect(said[index], 'no code of the system').not.toMatch(/\bE[A-Z]{4,}\b|RangeError|at file:/)
  }
  folder.remove()
})
