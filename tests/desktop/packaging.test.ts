import { execFileSync } from 'node:child_process'
import { cpSync, existsSync, globSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { getConfig, validateConfiguration } from 'app-builder-lib/out/util/config/config.js'
import { DebugLogger } from 'builder-util'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { productionBuild } from '#tests/tooling/production-build.ts'

const TOP = path.resolve(import.meta.dirname, '../..')

/** The patterns of files that go into the package; the packager gathers plain patterns into file sets when it reads them. */
function includedBy(configuration: Awaited<ReturnType<typeof getConfig>>): string[] {
  return [configuration.files ?? []]
    .flat()
    .flatMap((entry) => (typeof entry === 'string' ? [entry] : [entry.filter ?? []].flat()))
    .filter((pattern) => !pattern.startsWith('!'))
}

/** Folders of the packages that the application needs when it runs, as the lock file has them. */
function productionFolders(): string[] {
  const lock = JSON.parse(readFileSync(path.join(TOP, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, { dev?: boolean; devOptional?: boolean; optional?: boolean }>
  }
  return Object.entries(lock.packages)
    .filter(([folder, { dev, devOptional }]) => folder !== '' && !dev && !devOptional)
    .map(([folder]) => folder)
    .sort()
}

describe('packaging', () => {
  beforeAll(() => productionBuild(TOP), 120_000)
  const stage = mkdtempSync(path.join(os.tmpdir(), 'facegrid-stage-'))
  afterAll(() => rmSync(stage, { recursive: true, force: true }))

  it("fits the packager's own schema, and a wrong key does not", async () => {
    const configuration = await getConfig(TOP, 'electron-builder.yml', null)
    await expect(validateConfiguration(configuration, new DebugLogger(false))).resolves.toBeUndefined()
    const wrong = { ...configuration, electronFuses: { runAsNodes: false } }
    await expect(validateConfiguration(wrong as never, new DebugLogger(false))).rejects.toThrow(/electronFuses/)
  })

  it('turns off every fuse that would run foreign code', async () => {
    const configuration = await getConfig(TOP, 'electron-builder.yml', null)
    expect(configuration.electronFuses).toMatchObject({
      runAsNode: false,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
    })
  })

  it('names only files that are there, for every system', async () => {
    const configuration = await getConfig(TOP, 'electron-builder.yml', null)
    const patterns = includedBy(configuration)
    expect(patterns.length).toBeGreaterThanOrEqual(3)
    for (const pattern of patterns) expect(globSync(pattern, { cwd: TOP }).length, pattern).toBeGreaterThan(0)
    const { main } = JSON.parse(readFileSync(path.join(TOP, 'package.json'), 'utf8')) as { main: string }
    expect(existsSync(path.join(TOP, main))).toBe(true)
    const resources = path.join(TOP, configuration.directories?.buildResources ?? '')
    expect(readdirSync(resources)).toEqual(expect.arrayContaining(['icon.png']))
    for (const system of [configuration.win, configuration.mac, configuration.linux]) expect(system?.target).toBeDefined()
  })

  it('starts the headless host from a staged folder without development dependencies', async () => {
    const configuration = await getConfig(TOP, 'electron-builder.yml', null)
    for (const pattern of includedBy(configuration)) {
      for (const file of globSync(pattern, { cwd: TOP })) cpSync(path.join(TOP, file), path.join(stage, file), { recursive: true })
    }
    const production = productionFolders()
    expect(production).toEqual(['node_modules/better-sqlite3', 'node_modules/node-addon-api'])
    for (const folder of production) cpSync(path.join(TOP, folder), path.join(stage, folder), { recursive: true })

    const cli = path.join(stage, 'dist/electron/cli.js')
    const project = path.join(stage, 'demo.facegrid')
    execFileSync(process.execPath, [cli, 'demo', project], { cwd: stage, encoding: 'utf8' })
    const check = execFileSync(process.execPath, [cli, 'check', project, '--json'], { cwd: stage, encoding: 'utf8' })
    expect(check).not.toContain('"problem"')
  }, 60_000)
})
